// What can be added to the design and taken off it, as a line of plain words under the sentence.

import { el, fill, say } from "./dom.js";

const LAYERS = ["add_layer", "take_off_layer"]; // these stand with the layers, in the small print

export function drawBuild(desk, actions) {
  const place = document.getElementById("build");
  const ways = desk.state.build.filter((way) => !LAYERS.includes(way.do));
  fill(place, el("p", { class: "vh", id: "build-title" }, say("build")), el("div", { class: "build", role: "group", "aria-labelledby": "build-title" }, ways.map((way) => buildButton(way, actions))));
}

/** A button that does one of these. */
export function buildButton(way, actions) {
  return el("button", { type: "button", class: "link", "data-do": way.do, "data-part": way.part, "data-keep": `${way.do} ${way.part} ${way.number}`, onclick: () => actions.build(way) }, way.label);
}

/** The buttons that belong to a part's layers, or to one layer of it. */
export const layerWays = (desk, part, number = 0) => desk.state.build.filter((way) => way.part === part && LAYERS.includes(way.do) && way.number === number);
