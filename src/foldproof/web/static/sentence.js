// The design as a sentence: every phrase that can be changed is a button with a dimension line under it.

import { buildButton, layerWays } from "./build.js";
import { el, fill, sized } from "./dom.js";
import { slip } from "./slip.js";

export function drawSentence(desk, actions) {
  const line = document.getElementById("sentence");
  const kept = focused(line);
  const parts = desk.state.sentence.map((part) => ("phrase" in part ? phrase(part, desk, actions) : part.text));
  fill(line, parts);
  restore(line, kept);
  const opened = desk.state.sentence.find((part) => part.phrase && part.phrase === desk.open);
  const place = document.getElementById("slip");
  const writing = written(place);
  fill(place, opened ? slip(opened, desk, actions) : null);
  goOn(place, opened?.phrase ?? "", writing);
}

/** The rest of the values, each a line with its own phrase; the slip opens under the line. */
export function drawMore(desk, actions) {
  const place = document.getElementById("more");
  const kept = focused(place);
  const writing = written(place);
  const shown = new Set([...place.querySelectorAll("details[open]")].map((each) => each.dataset.title));
  fill(
    place,
    desk.state.more.map((group) => {
      const holds = group.phrases.some((row) => row.phrase === desk.open);
      return el(
        "details",
        { open: shown.has(group.title) || holds, "data-title": group.title },
        el("summary", {}, group.title),
        el("dl", { class: "small-print" }, group.phrases.map((row, at) => moreRow(row, group, at, desk, actions))),
        group.part ? layerWays(desk, group.part).map((way) => buildButton(way, actions)) : null,
      );
    }),
  );
  restore(place, kept);
  goOn(place, desk.state.more.some((group) => group.phrases.some((row) => row.phrase === desk.open)) ? desk.open : "", writing);
}

function moreRow(row, group, at, desk, actions) {
  const first = row.group && row.group !== group.phrases[at - 1]?.group;
  const heading = first ? el("dt", { class: "small-print-group" }, row.group, layerWays(desk, group.part, row.number).map((way) => buildButton(way, actions))) : null;
  const place = el("div", { class: "slip-place" }, row.phrase === desk.open ? slip(row, desk, actions) : null);
  const under = first ? el("dd", { class: "vh" }) : null;
  return [heading, under, el("dt", {}, row.label), el("dd", {}, phrase(row, desk, actions), place)];
}

function phrase(part, desk, actions) {
  if (!part.phrase) return el("b", { class: "said" }, sized(part.text));
  const opened = part.phrase === desk.open;
  const worked = desk.state.open[part.phrase];
  const problem = desk.state.problems.some((each) => each.field === part.phrase) || failing(desk, part.phrase);
  return el(
    "button",
    {
      type: "button",
      class: ["phrase", part.state, problem ? "at-fault" : "", worked && !worked.works ? "at-fault" : ""].join(" ").trim(),
      "data-phrase": part.phrase,
      "aria-expanded": opened ? "true" : "false",
      "aria-label": `${part.text || "–"}: ${part.control.label}`,
      onclick: () => actions.open(opened ? null : part.phrase),
    },
    sized(part.text || "–"),
  );
}

/** Does a failing check ask for this value to be changed? */
function failing(desk, path) {
  return (desk.mends ?? []).some((mend) => mend.failing && mend.changes.some((change) => change.path === path));
}

/** What is being written into a slip: the field, what stands there unsent, and where in it. */
function written(place) {
  const active = document.activeElement;
  const field = active && place.contains(active) && active.closest(".slip") ? active : null;
  const unsent = field?.matches("input.value") && field.value.trim() !== field.dataset.sent;
  return {
    keep: field?.dataset.keep ?? null,
    text: unsent ? field.value : null,
    range: field?.matches("input.value") ? [field.selectionStart, field.selectionEnd] : null,
  };
}

/** A slip that was just opened is entered; one that was drawn again is as it was left, with what was being written. */
function goOn(place, phrase, { keep, text, range }) {
  const before = place.dataset.phrase ?? "";
  place.dataset.phrase = phrase;
  const made = place.querySelector(".slip");
  if (!made) return;
  if (before !== phrase) {
    made.querySelector("[data-first]")?.focus();
    return;
  }
  const field = keep === null ? null : made.querySelector(`[data-keep="${CSS.escape(keep)}"]`);
  if (!field) return;
  if (text !== null) field.value = text;
  field.focus({ preventScroll: true });
  if (range && text !== null) field.setSelectionRange(...range);
}

function focused(place) {
  const active = document.activeElement;
  if (!active || !place.contains(active)) return null;
  return active.dataset.phrase ?? active.dataset.keep ?? null;
}

function restore(place, kept) {
  if (kept === null) return;
  const again = place.querySelector(`[data-phrase="${CSS.escape(kept)}"], [data-keep="${CSS.escape(kept)}"]`);
  again?.focus();
}
