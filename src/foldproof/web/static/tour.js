// A short way round that makes a box: notes at the foot of the page, one after the other, none of them in the way.

import { el, fill, say, tell } from "./dom.js";

const PLACES = ["sentence", "sentence", "verdict", "plate-fold", "plate-sheet", "notes", "main"];

if (new URLSearchParams(location.search).has("tour")) begin();

function begin() {
  const note = el("aside", { class: "tour", "aria-label": say("tour") });
  document.body.append(note);
  let at = 0;
  const end = () => {
    note.remove();
    history.replaceState(null, "", location.pathname);
    mark(null);
  };
  const draw = () => {
    const last = at === PLACES.length - 1;
    const text = say(`tour_${at + 1}`);
    fill(
      note,
      el("p", { class: "quiet" }, say("tour_of", { number: at + 1, count: PLACES.length })),
      el("p", {}, text),
      el(
        "div",
        { class: "steps-line" },
        el("button", { type: "button", class: "step", disabled: at === 0, onclick: () => go(at - 1) }, say("tour_back")),
        last ? null : el("button", { type: "button", class: "do", onclick: () => go(at + 1) }, say("tour_next")),
        el("button", { type: "button", class: last ? "do" : "link", onclick: end }, say("tour_end")),
      ),
    );
    const place = document.getElementById(PLACES[at]);
    mark(place);
    if (PLACES[at] !== "main") place?.scrollIntoView({ block: "center" });
    tell(text);
  };
  const go = (to) => {
    at = Math.max(0, Math.min(PLACES.length - 1, to));
    draw();
    note.querySelector(".do")?.focus();
  };
  draw();
}

function mark(place) {
  for (const each of document.querySelectorAll(".toured")) each.classList.remove("toured");
  if (place && place.id !== "main") place.classList.add("toured");
}
