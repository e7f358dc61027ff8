// The verdict as a sentence, and the proof in words, worst first, each with what it shows and what mends it.

import { el, fill, say, sized, svg } from "./dom.js";

const MARKS = {
  holds: ["M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0-20", "M7.5 12.5l3 3l6-7"],
  look: ["M12 3L22 21H2z", "M12 10v5M12 17.6v.6"],
  undecided: ["M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0-20", "M9 9.5c0-4 6-4 6 0c0 2.5-3 2.5-3 5M12 17v.6"],
  fails: ["M3 3h18v18H3z", "M8 8l8 8M16 8l-8 8"],
  checking: ["M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0-20", ""],
};

const MOST_SHOWN = 8; // checks that hold stand open only when there are few

/** The sign of a state: its shape tells it without its colour. */
export function mark(state) {
  const [outer, inner] = MARKS[state];
  return svg("svg", { class: `mark ${state}`, viewBox: "0 0 24 24", "aria-hidden": "true" }, svg("path", { d: outer, class: "outer" }), inner ? svg("path", { d: inner, class: "inner" }) : null);
}

export function drawVerdict(desk, actions) {
  const place = document.getElementById("verdict");
  const ribbon = document.getElementById("ribbon");
  const { state, proof } = desk;
  place.setAttribute("aria-busy", proof ? "false" : "true");
  if (state.problems.length) {
    place.className = "verdict fails";
    fill(
      place,
      mark("fails"),
      el("div", {}, el("p", { class: "headline" }, el("b", {}, say("cannot"))), el("ul", { class: "problems" }, state.problems.map((each) => el("li", {}, sized(problemText(each, state)))))),
    );
    fill(ribbon, say("cannot"));
    ribbon.dataset.state = "fails";
    return;
  }
  if (!proof) {
    place.className = "verdict checking";
    fill(place, mark("checking"), el("div", {}, el("p", { class: "headline" }, el("b", {}, say("checking"))), el("p", {}, say("checking_line"))));
    fill(ribbon, say("checking"));
    ribbon.dataset.state = "checking";
    return;
  }
  const kind = proof.verdict;
  const worst = proof.findings[0];
  const first = kind === "proved" ? "holds" : worst.state;
  place.className = `verdict ${first}`;
  const [said, rest] = firstSentence(proof.line);
  fill(
    place,
    mark(first),
    el(
      "div",
      {},
      el("p", { class: "headline" }, el("b", {}, say(kind)), " ", sized(kind === "proved" ? said : worst.title)),
      el("p", {}, sized(kind === "proved" ? rest : proof.line)),
      kind === "proved" ? null : mends(worst, desk, actions),
      el("a", { class: "link", href: "#proof-title" }, say("read_proof")),
    ),
  );
  fill(ribbon, kind === "proved" ? say("ribbon_proved") : say("ribbon_not", { title: worst.title }));
  ribbon.dataset.state = first;
}

/** The first sentence of a text, and what follows it. */
function firstSentence(text) {
  const end = text.search(/[.!?]\s/);
  return end < 0 ? [text, ""] : [text.slice(0, end + 1), text.slice(end + 2)];
}

function problemText(problem, state) {
  const phrase = [...state.sentence, ...state.more.flatMap((group) => group.phrases)].find((each) => each.phrase === problem.field);
  const what = phrase ? `${phrase.control.label}: ` : "";
  return `${what}${problem.reason}. ${problem.remedy}.`;
}

function mends(finding, desk, actions) {
  if (finding.state === "holds") return null;
  if (!desk.mends) return el("p", { class: "quiet" }, say("mending"));
  const those = desk.mends.filter((mend) => mend.part === finding.part && mend.code === finding.code);
  if (!those.length) return finding.state === "look" ? null : el("p", { class: "quiet" }, say("no_mend"));
  return el(
    "div",
    { class: "mends" },
    those.map((mend) =>
      el("button", { type: "button", class: "mend", onclick: () => actions.mend(mend.changes) }, sized(say("mend", { change: mend.words })), mend.after ? el("small", {}, ` ${mend.after}`) : null),
    ),
  );
}

export function drawProof(desk, actions) {
  const place = document.getElementById("proof");
  const { proof } = desk;
  if (desk.state.problems.length) {
    fill(place, el("p", { class: "quiet" }, say("cannot")));
    return;
  }
  if (!proof) {
    for (const cell of place.querySelectorAll(".measured, .limit")) cell.textContent = "…";
    for (const cell of place.querySelectorAll(".state")) fill(cell, mark("checking"), say("checking"));
    for (const each of place.querySelectorAll(".mends, .show, .why")) each.remove();
    return;
  }
  const holds = proof.findings.filter((each) => each.state === "holds");
  const folded = holds.length > MOST_SHOWN;
  const first = folded ? proof.findings.filter((each) => each.state !== "holds") : proof.findings;
  const open = place.querySelector("details.holding")?.open ?? false;
  fill(
    place,
    first.length ? table(first, desk, actions) : null,
    folded ? el("details", { class: "holding", open }, el("summary", {}, mark("holds"), say("also_hold", { count: holds.length })), table(holds, desk, actions)) : null,
    el("details", { class: "granted" }, el("summary", {}, say("granted")), el("ul", {}, proof.assumptions.map((each) => el("li", {}, sized(each.words))))),
  );
}

function table(findings, desk, actions) {
  return el(
    "table",
    { class: "proof" },
    el("caption", { class: "vh" }, say("proof")),
    el("thead", {}, el("tr", {}, ["state", "what_tried", "measured", "limit"].map((key) => el("th", { scope: "col" }, say(key))), el("th", { scope: "col" }, el("span", { class: "vh" }, say("show_me"))))),
    el("tbody", {}, findings.map((finding) => row(finding, desk, actions))),
  );
}

function row(finding, desk, actions) {
  const several = new Set(desk.proof.findings.map((each) => each.part)).size > 1;
  return el(
    "tr",
    { class: finding.state, "data-code": finding.code },
    el("td", { class: "state" }, mark(finding.state), el("span", {}, say(finding.state))),
    el(
      "th",
      { scope: "row" },
      el("span", { class: "title" }, sized(finding.title)),
      several ? el("span", { class: "part" }, ` ${finding.part}`) : null,
      finding.state === "holds" ? null : el("p", { class: "why" }, sized(finding.why)),
      mends(finding, desk, actions),
    ),
    el("td", { class: "measured", "data-what": say("measured") }, sized(finding.measured), finding.measured_other ? el("small", {}, sized(finding.measured_other)) : null),
    el("td", { class: "limit", "data-what": say("limit") }, sized(finding.limit), finding.limit_other ? el("small", {}, sized(finding.limit_other)) : null),
    el("td", { class: "show" }, el("button", { type: "button", class: "link", "aria-label": say("show_me_what", { title: finding.title }), onclick: () => actions.show(finding) }, say("show_me"))),
  );
}
