// Every version of a design, and two of them side by side.

import { get, post, Away, Refused } from "./ask.js";
import { drawing, el, fill, say, sized } from "./dom.js";
import { when } from "./notes.js";
import { drawOffline } from "./trouble.js";

const { id, notes } = JSON.parse(document.getElementById("history").textContent);
const place = document.getElementById("all-notes");
const compared = document.getElementById("compared");

function draw() {
  const pick = (name, at) => (note, number) =>
    el("input", { type: "radio", name, value: note.version, checked: number === at, "aria-label": `${say(name)}: ${say("version", { number: note.version })}`, onchange: compare });
  const first = pick("first", Math.min(1, notes.length - 1));
  const second = pick("second", 0);
  fill(
    place,
    el(
      "table",
      { class: "all-notes" },
      el("thead", {}, el("tr", {}, [say("first"), say("second"), "", "", ""].map((text) => (text ? el("th", { scope: "col" }, text) : el("td", {}))))),
      el(
        "tbody",
        {},
        notes.map((note, at) =>
          el(
            "tr",
            { "aria-current": note.current ? "true" : null },
            el("td", {}, first(note, at)),
            el("td", {}, second(note, at)),
            el("td", {}, el("time", { datetime: note.when }, when(note.when))),
            el("td", {}, sized(note.what)),
            el("td", {}, note.current ? say("current") : el("button", { type: "button", class: "link", onclick: () => goTo(note.version) }, say("go_to"))),
          ),
        ),
      ),
    ),
  );
}

async function goTo(version) {
  try {
    await post(`/api/p/${id}/go-to`, { version });
    location.href = `/p/${id}`;
  } catch (error) {
    trouble(error, () => goTo(version));
  }
}

async function compare() {
  const chosen = (name) => place.querySelector(`input[name="${name}"]:checked`)?.value;
  try {
    const found = await get(`/api/p/${id}/compare?a=${chosen("first")}&b=${chosen("second")}`);
    fill(
      compared,
      el("h2", { class: "large" }, say("side_by_side")),
      found.pairs.length
        ? el(
            "table",
            { class: "pairs" },
            el("thead", {}, el("tr", {}, [say("this_value"), say("first"), say("second")].map((text) => el("th", { scope: "col" }, text)))),
            el("tbody", {}, found.pairs.map((pair) => el("tr", {}, el("th", { scope: "row" }, pair.label), el("td", {}, sized(pair.a)), el("td", {}, sized(pair.b))))),
          )
        : el("p", {}, say("no_difference")),
      el("div", { class: "side-by-side" }, [found.a, found.b].map((side, at) => el("section", { "aria-label": say(at ? "second" : "first") }, el("p", { class: "side-sentence" }, side.sentence.flatMap((part) => sized(part.text))), side.sheets.map((sheet) => el("div", { class: "on-paper" }, drawing(sheet.svg)))))),
    );
  } catch (error) {
    trouble(error, compare);
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) fill(document.getElementById("trouble"), el("p", { class: "wrong", role: "alert" }, error.message));
  else throw error;
}

draw();
if (notes.length > 1) compare();
