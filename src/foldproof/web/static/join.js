// Coming in from another device, with the code that the maker's screen shows.

import { post, Away, Refused } from "./ask.js";
import { el, fill, say } from "./dom.js";
import { drawOffline } from "./trouble.js";

const input = el("input", { class: "plain-input", id: "code", inputmode: "numeric", autocomplete: "one-time-code", maxlength: 12 });
const wrong = el("p", { class: "wrong", role: "alert" });
const form = el("form", { class: "begin", onsubmit: enter }, el("label", { for: "code" }, say("join_code")), input, el("button", { class: "do" }, say("join_do")), wrong);

async function enter(event) {
  event?.preventDefault();
  try {
    await post("/join/in", { code: input.value });
    location.href = "/";
  } catch (error) {
    if (error instanceof Away) drawOffline(enter);
    else if (error instanceof Refused) fill(wrong, say("join_wrong"));
    else throw error;
  }
}

fill(document.getElementById("join"), form);
input.focus();
