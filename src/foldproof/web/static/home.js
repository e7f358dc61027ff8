// Everything she keeps: each with its picture and its verdict; and beginning something new.

import { get, post, postFile, Away, Refused } from "./ask.js";
import { el, fill, say, sized, tell } from "./dom.js";
import { when } from "./notes.js";
import { mark } from "./proof.js";
import { drawOffline } from "./trouble.js";

let home = JSON.parse(document.getElementById("home").textContent);
let asking = null; // the project that is being renamed or thrown away

const SIGNS = { proved: ["holds", "proved"], not_proved: ["fails", "not_proved"], not_decided: ["undecided", "not_decided"], open: ["undecided", "verdict_open"] };

function draw() {
  const kept = home.kept.filter((each) => !each.archived);
  fill(document.getElementById("kept"), kept.length ? el("ul", { class: "cards" }, kept.map(card)) : el("p", { class: "quiet" }, say("none_kept")));
  const away = home.kept.filter((each) => each.archived);
  fill(
    document.getElementById("away"),
    away.length ? el("details", {}, el("summary", {}, say("put_away")), el("ul", { class: "rows" }, away.map((each) => row(each, [["restore_do", () => act(each.id, "restore")]])))) : null,
    home.bin.length ? el("details", {}, el("summary", {}, say("the_bin")), el("ul", { class: "rows" }, home.bin.map((each) => row(each, [["take_back", () => act(each.bin_id, "take-back")]])))) : null,
  );
}

const row = (each, ways) => el("li", {}, el("span", {}, each.name), ways.map(([key, done]) => el("button", { type: "button", class: "link", "aria-label": say("of_name", { what: say(key), name: each.name }), onclick: done }, say(key))));

function card(each) {
  const [state, key] = SIGNS[each.verdict] ?? ["checking", "verdict_unknown"];
  return el(
    "li",
    { class: "card" },
    el(
      "a",
      { href: `/p/${each.id}`, class: "card-open" },
      el("img", { src: `/api/p/${each.id}/picture.svg?version=${each.version}`, alt: "", width: 240, height: 192, loading: "lazy" }),
      el("span", { class: "card-name", dir: "auto" }, each.name),
    ),
    el("p", { class: `card-verdict ${state}`, "data-verdict": each.id }, mark(state), el("span", {}, say(key).replace(/\.$/, ""))),
    each.trouble ? el("p", { class: "wrong" }, say("trouble_with", { why: each.trouble })) : null,
    el("p", { class: "quiet" }, say("changed", { when: when(each.changed) })),
    asking?.id === each.id ? question(each) : ways(each),
  );
}

function ways(each) {
  const button = (key, done) => el("button", { type: "button", class: "link", "aria-label": say("of_name", { what: say(key), name: each.name }), onclick: done }, say(key));
  const ask = (what) => () => {
    asking = { id: each.id, what };
    draw();
    document.querySelector("[data-first]")?.focus();
  };
  return el(
    "div",
    { class: "card-ways" },
    button("copy_do", () => act(each.id, "copy")),
    button("rename_do", ask("rename")),
    el("a", { class: "link", href: `/api/p/${each.id}/send`, "aria-label": say("of_name", { what: say("send_do"), name: each.name }) }, say("send_do")),
    button("archive_do", () => act(each.id, "archive")),
    button("remove_do", ask("remove")),
  );
}

function question(each) {
  const done = () => {
    asking = null;
    draw();
  };
  if (asking.what === "remove") {
    return el(
      "div",
      { class: "question" },
      el("p", {}, say("remove_sure", { name: each.name })),
      el("button", { type: "button", class: "step", "data-first": true, onclick: done }, say("remove_no")),
      el("button", { type: "button", class: "step", onclick: () => act(each.id, "remove") }, say("remove_yes")),
    );
  }
  const input = el("input", { class: "plain-input", value: each.name, maxlength: 300, "aria-label": say("rename_to"), "data-first": true });
  return el(
    "form",
    {
      class: "question",
      onsubmit: (event) => {
        event.preventDefault();
        act(each.id, "rename", { name: input.value });
      },
    },
    input,
    el("button", { class: "step" }, say("rename_do")),
    el("button", { type: "button", class: "link", onclick: done }, say("close")),
  );
}

async function act(id, what, data = {}) {
  try {
    await post(`/api/p/${id}/${what}`, data);
    asking = null;
    home = await get("/api/home");
    draw();
    pictures();
  } catch (error) {
    trouble(error, () => act(id, what, data));
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) {
    const place = document.getElementById("trouble");
    fill(place, error.problems.map((problem) => el("p", { class: "wrong", role: "alert" }, sized(`${problem.reason}. ${problem.remedy}.`))));
  } else throw error;
}

// --- Beginning --------------------------------------------------------------------------------------------------

function drawBegin() {
  const name = el("input", { class: "plain-input", id: "begin-name", maxlength: 300, autocomplete: "off" });
  const unit = (value, key) => el("label", {}, el("input", { type: "radio", name: "unit", value, checked: value === home.unit }), say(key));
  const family = (each, at) => el("label", { class: "family" }, el("input", { type: "radio", name: "family", value: each.name, checked: at === 0 }), el("span", {}, el("b", {}, each.name), el("small", {}, each.summary)));
  const form = el(
    "form",
    {
      class: "begin",
      onsubmit: (event) => {
        event.preventDefault();
        const chosen = new FormData(form);
        begin({ from: "construction", construction: chosen.get("family"), unit: chosen.get("unit"), name: name.value });
      },
    },
    el("fieldset", {}, el("legend", {}, say("begin_with")), home.families.map(family)),
    el("fieldset", { class: "choices" }, el("legend", {}, say("begin_unit")), unit("in", "unit_in"), unit("cm", "unit_cm")),
    el("label", { for: "begin-name" }, say("begin_name")),
    name,
    el("button", { class: "do" }, say("begin_do")),
  );
  const file = el("input", { type: "file", id: "bring", accept: ".toml,.zip", class: "file", onchange: () => file.files[0] && bring(file.files[0]) });
  fill(
    document.getElementById("begin"),
    el(
      "div",
      { class: "begin-columns" },
      form,
      el(
        "div",
        {},
        el("h3", {}, say("tour")),
        el("p", { class: "quiet" }, say("tour_line")),
        el("button", { type: "button", class: "step", onclick: () => begin({ from: "tour", unit: home.unit }, "?tour") }, say("tour_begin")),
        el("h3", {}, say("begin_example")),
        el("ul", { class: "rows" }, home.examples.map((each) => el("li", {}, el("button", { type: "button", class: "link", onclick: () => begin({ from: "example", example: each.id }) }, each.name)))),
        el("h3", {}, el("label", { for: "bring" }, say("bring_in"))),
        el("p", { class: "quiet" }, say("bring_in_line")),
        file,
      ),
    ),
  );
}

async function begin(data, more = "") {
  try {
    const { id } = await post("/api/projects", data);
    location.href = `/p/${id}${more}`;
  } catch (error) {
    trouble(error, () => begin(data, more));
  }
}

async function bring(file) {
  try {
    const { id } = await postFile("/api/bring-in", file);
    location.href = `/p/${id}`;
  } catch (error) {
    trouble(error, () => bring(file));
  }
}

/** Verdicts that are not known yet come with their pictures. */
async function pictures() {
  for (const each of home.kept.filter((one) => !one.verdict && !one.archived && !one.trouble)) {
    try {
      const { verdict } = await get(`/api/p/${each.id}/verdict?version=${each.version}`);
      each.verdict = verdict;
      const place = document.querySelector(`[data-verdict="${CSS.escape(each.id)}"]`);
      const [state, key] = SIGNS[verdict] ?? ["checking", "verdict_unknown"];
      if (place) {
        place.className = `card-verdict ${state}`;
        fill(place, mark(state), el("span", {}, say(key).replace(/\.$/, "")));
      }
    } catch (error) {
      if (error instanceof Away) drawOffline(pictures);
    }
  }
}

draw();
drawBegin();
pictures();
tell("");
