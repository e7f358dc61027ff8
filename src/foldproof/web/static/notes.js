// What changed and when, as dated notes in the margin; one press takes a change back, one makes it again.

import { el, fill, say, sized } from "./dom.js";

const SHOWN = 4;

export function drawNotes(desk, actions) {
  const place = document.getElementById("notes");
  const { state } = desk;
  const active = document.activeElement?.dataset?.keep;
  fill(
    place,
    el(
      "div",
      { class: "undo-row" },
      el("button", { type: "button", class: "link", "data-keep": "undo", disabled: !state.can_undo, onclick: actions.undo }, say("undo")),
      el("button", { type: "button", class: "link", "data-keep": "redo", disabled: !state.can_redo, onclick: actions.redo }, say("redo")),
    ),
    el("ol", {}, state.notes.slice(0, SHOWN).map((note) => el("li", { "aria-current": note.current ? "true" : null }, el("time", { datetime: note.when }, when(note.when)), el("span", {}, sized(note.what))))),
    state.notes.length > 1 ? el("a", { class: "link", href: `/p/${desk.id}/notes` }, say("compare")) : null,
  );
  if (active === "undo" || active === "redo") place.querySelector(`[data-keep="${active}"]`)?.focus();
}

/** A time as people say it, in their own language: today by the hour, else by the day. */
export function when(iso) {
  const time = new Date(iso);
  const days = Math.round((new Date().setHours(0, 0, 0, 0) - new Date(time).setHours(0, 0, 0, 0)) / 86400000);
  const language = document.documentElement.lang;
  const hour = new Intl.DateTimeFormat(language, { hour: "numeric", minute: "2-digit" }).format(time);
  if (days < 7) return `${new Intl.RelativeTimeFormat(language, { numeric: "auto" }).format(-days, "day")}, ${hour}`;
  return new Intl.DateTimeFormat(language, { day: "numeric", month: "long", year: "numeric" }).format(time);
}
