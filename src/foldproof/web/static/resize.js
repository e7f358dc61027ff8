// The same design in another size: its lengths side by side with the new ones, kept as a project of its own.

import { post, Away, Refused } from "./ask.js";
import { el, fill, say, sized } from "./dom.js";
import { drawOffline } from "./trouble.js";

const { id, name, lengths } = JSON.parse(document.getElementById("sizes").textContent);
const place = document.getElementById("resize");

const title = el("input", { class: "plain-input", id: "new-name", maxlength: 300, value: name, autocomplete: "off" });
const rows = lengths.map((each, at) => ({ ...each, input: el("input", { class: "plain-input", id: `length-${at}`, value: each.value, autocomplete: "off" }) }));
const form = el(
  "form",
  { class: "begin", onsubmit: make },
  el("label", { for: "new-name" }, say("begin_name")),
  title,
  rows.map((row, at) => [el("label", { for: `length-${at}` }, row.label, " ", el("span", { class: "quiet" }, sized(row.value))), row.input]),
  el("button", { class: "do" }, say("resize_do")),
);

async function make(event) {
  event?.preventDefault();
  const changes = rows.filter((row) => row.input.value.trim() !== row.value).map((row) => ({ path: row.path, value: row.input.value.trim() }));
  try {
    const made = await post(`/api/p/${id}/resize`, { name: title.value, changes: changes.length ? changes : [{ path: rows[0].path, value: rows[0].value }] });
    location.href = `/p/${made.id}`;
  } catch (error) {
    if (error instanceof Away) drawOffline(make);
    else if (error instanceof Refused) fill(document.getElementById("trouble"), error.problems.map((problem) => el("p", { class: "wrong", role: "alert" }, sized(`${problem.value} ${problem.reason}. ${problem.remedy}.`))));
    else throw error;
  }
}

fill(place, form);
