// What stands in the way: a workbench that does not answer, and a value that two windows changed.

import { el, fill, say, sized } from "./dom.js";

/** Says that nothing answers, with a way to try again; null takes it away. */
export function drawOffline(again) {
  const place = document.getElementById("trouble");
  if (!again) {
    place.querySelector(".offline")?.remove();
    return;
  }
  if (place.querySelector(".offline")) return;
  place.append(el("div", { class: "offline", role: "alert" }, el("p", {}, say("offline")), el("button", { type: "button", class: "step", onclick: () => {
    drawOffline(null);
    again();
  } }, say("again"))));
}

/** Asks which of two values counts, for each that both windows changed. */
export function drawClash(clash, choose) {
  const place = document.getElementById("trouble");
  for (const each of clash) {
    const note = el("div", { class: "clash", role: "alert" });
    const done = (value) => {
      note.remove();
      if (value !== null) choose(each.field, value);
    };
    fill(
      note,
      el("p", {}, sized(say("clash", each))),
      el("button", { type: "button", class: "step", onclick: () => done(each.mine) }, sized(say("keep_mine", each))),
      el("button", { type: "button", class: "step", onclick: () => done(null) }, sized(say("keep_theirs", each))),
    );
    place.append(note);
  }
}
