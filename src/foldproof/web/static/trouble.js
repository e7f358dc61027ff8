// What stands in the way: a workbench that does not answer, a change that cannot be, a value that two windows changed.

import { el, fill, say, sized } from "./dom.js";

const place = () => document.getElementById("trouble");

let unanswered = []; // all that was asked in vain, in order: trying again asks each of them again

/** Says that nothing answers, with a way to try again; null takes it away. */
export function drawOffline(again) {
  if (!again) {
    unanswered = [];
    place().querySelector(".offline")?.remove();
    return;
  }
  if (!unanswered.includes(again)) unanswered.push(again);
  if (place().querySelector(".offline")) return;
  const retry = async () => {
    const asked = unanswered;
    drawOffline(null);
    for (const each of asked) await each();
  };
  place().append(el("div", { class: "offline", role: "alert" }, el("p", {}, say("offline")), el("button", { type: "button", class: "step", onclick: retry }, say("again"))));
}

/** Says what was refused, with its remedy; null takes it away. */
export function drawRefused(refused) {
  place().querySelector(".refused")?.remove();
  if (!refused?.problems?.length) return;
  place().append(el("div", { class: "refused wrong", role: "alert" }, refused.problems.map((each) => el("p", {}, sized(whole(each))))));
  place().scrollIntoView({ block: "center" });
}

/** A problem as a sentence. */
export const whole = ({ value, reason, remedy }) => `${value === undefined || value === null ? "" : value} ${reason}: ${remedy}.`.trim();

/** Asks which of two values counts, for each that both windows changed. */
export function drawClash(clash, choose) {
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
    place().append(note);
  }
}
