// Sharing with the room: an address, a code for one device at a time, and an end to it.

import { get, post, Away, Refused } from "./ask.js";
import { drawing, el, fill, say } from "./dom.js";
import { drawOffline } from "./trouble.js";

const LOOK_MS = 3000; // a code that was used is replaced: the screen shows the new one

let sharing = JSON.parse(document.getElementById("sharing").textContent);
const place = document.getElementById("share");

function draw() {
  if (!sharing.here) {
    fill(place, el("p", { class: "quiet" }, say("share_only_here")));
    return;
  }
  fill(
    place,
    sharing.open
      ? el(
          "div",
          { class: "shared" },
          sharing.picture ? el("div", { class: "code-picture" }, drawing(sharing.picture)) : null,
          el("div", {}, el("p", {}, say("share_address")), sharing.addresses.map((address) => el("p", { class: "hero" }, address)), el("p", {}, say("share_code")), el("p", { class: "hero", "aria-live": "polite" }, `${sharing.code.slice(0, 4)} ${sharing.code.slice(4)}`), el("p", { class: "quiet" }, say("share_guests", { count: sharing.guests }))),
        )
      : null,
    sharing.ended ? el("p", { class: "wrong", role: "alert" }, say("share_ended")) : null,
    el("button", { type: "button", class: sharing.open ? "step" : "do", onclick: () => turn(sharing.open ? "stop" : "start") }, say(sharing.open ? "share_end" : "share_begin")),
  );
}

async function turn(way) {
  try {
    sharing = await post(`/api/share/${way}`);
    draw();
  } catch (error) {
    trouble(error, () => turn(way));
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) fill(document.getElementById("trouble"), el("p", { class: "wrong", role: "alert" }, error.problems.map((problem) => `${problem.reason}. ${problem.remedy}.`).join(" ")));
  else throw error;
}

setInterval(async () => {
  if (!sharing.open || document.visibilityState !== "visible") return;
  try {
    const now = await get("/api/share");
    if (now.code !== sharing.code || now.guests !== sharing.guests || now.open !== sharing.open) {
      sharing = now;
      draw();
    }
  } catch (error) {
    trouble(error, () => location.reload());
  }
}, LOOK_MS);

draw();
