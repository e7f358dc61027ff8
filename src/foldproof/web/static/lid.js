// The lid from above: she turns it by its knob and drags the hole, and what is uncovered follows the finger. The place
// of the hole is kept when she lets go; the workbench then measures it again.

import { el, fill, say, sized, svg } from "./dom.js";
import { inWords } from "./slip.js";
import { fromEdge, margin, turned, uncovered } from "./plane.js";

const WIDE = 480;
const TALL = 440;
const KNOB = 24;
const EDGE = 34;
const TURN_STEP = 5;

export function mountLid(place, { edit }) {
  let lids = [];
  let chosen = 0;
  let deg = null;
  let moved = null; // the hole while it is dragged, in mm

  const picture = svg("svg", { viewBox: `0 0 ${WIDE} ${TALL}`, class: "lid-picture", "aria-label": say("lid"), role: "group" });
  const readings = el("div", { class: "readings" });
  fill(place, picture, readings);

  const lid = () => lids[chosen];
  const hole = () => moved ?? lid().hole;
  const control = () => ({ unit: lid().unit, steps_per_unit: lid().steps_per_unit });

  let onPage = null;
  let onBox = null;

  /** Keeps lid, box and the whole turn in sight: the scale does not change while it is turned. */
  function settle() {
    const data = lid();
    const reach = Math.max(...data.outline.map(([x, y]) => Math.hypot(x - data.hole[0], y - data.hole[1])));
    const points = [...data.rim, ...data.outline, ...turned(data.outline, data.hole, data.opened_deg)];
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    const pad = Math.min(12, reach * 0.1);
    const box = [Math.min(...xs) - pad, Math.min(...ys) - pad, Math.max(...xs) + pad, Math.max(...ys) + pad];
    const scale = Math.min((WIDE - 2 * EDGE) / (box[2] - box[0]), (TALL - 2 * EDGE) / (box[3] - box[1]));
    const middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    onPage = ([x, y]) => [WIDE / 2 + scale * (x - middle[0]), TALL / 2 - scale * (y - middle[1])];
    onBox = ([x, y]) => [middle[0] + (x - WIDE / 2) / scale, middle[1] - (y - TALL / 2) / scale];
  }

  const path = (points) => `M${points.map((point) => onPage(point).map((value) => value.toFixed(1)).join(",")).join("L")}Z`;

  function draw() {
    const data = lid();
    const at = hole();
    const outline = turned(data.outline, at, deg);
    const knobAt = onPage(turned([data.knob], at, deg)[0]);
    const holeAt = onPage(at);
    fill(
      picture,
      svg("path", { d: path(data.rim), class: "box-rim" }),
      svg("path", { d: path(data.opening), class: "box-opening" }),
      data.layers.map((layer, number) => svg("path", { d: path(turned(layer, at, deg)), class: number ? "lid-layer" : "lid-layer lowest" })),
      svg("path", { d: path(outline), class: "lid-outline" }),
      svg("path", { d: path(data.rim), class: "beneath" }),
      svg("path", { d: path(data.triangle), class: "beneath" }),
      svg("text", { x: onPage(data.rim[0])[0] + 8, y: onPage(data.rim[0])[1] - 10, class: "soft-text" }, say("box_beneath")),
      knob(knobAt),
      holeMark(holeAt),
    );
    figures();
  }

  function figures() {
    const data = lid();
    const share = uncovered(data.outline, data.opening, hole(), deg);
    const now = margin(data.outline, data.rim);
    fill(
      readings,
      reading(say("uncovered"), `${Math.round(100 * share)} %`, say("turned", { deg: Math.round(Math.abs(deg)) })),
      reading(say("margin"), now === null ? "–" : inWords(now, control()), `${say("hole")}: ${inWords(fromCorner(), control())}`),
    );
    return share;
  }

  const reading = (title, big, small) => el("div", { class: "reading" }, el("span", { class: "quiet" }, title), el("b", {}, sized(big)), el("span", { class: "quiet" }, sized(small)));

  const fromCorner = () => Math.hypot(hole()[0] - lid().corner[0], hole()[1] - lid().corner[1]);

  // --- The knob -------------------------------------------------------------------------------------------------

  function knob([x, y]) {
    const share = Math.round(100 * uncovered(lid().outline, lid().opening, hole(), deg));
    const made = svg(
      "g",
      {
        class: "knob",
        role: "slider",
        tabindex: 0,
        "aria-label": say("lid_knob"),
        "aria-valuemin": -180,
        "aria-valuemax": 180,
        "aria-valuenow": Math.round(deg),
        "aria-valuetext": say("lid_said", { deg: Math.round(Math.abs(deg)), share }),
        "data-keep": "knob",
      },
      svg("circle", { cx: x, cy: y, r: KNOB }),
      svg("path", { d: `M${x - 4},${y - 7}l4,-6l4,6M${x},${y - 12}v24M${x - 4},${y + 7}l4,6l4,-6` }),
    );
    made.addEventListener("keydown", (event) => {
      const to = { ArrowRight: deg + TURN_STEP, ArrowUp: deg + TURN_STEP, ArrowLeft: deg - TURN_STEP, ArrowDown: deg - TURN_STEP, PageUp: deg + 45, PageDown: deg - 45, Home: 0, End: lid().opened_deg }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      turnTo(to);
    });
    drag(made, (point) => {
      const from = lid().knob;
      const at = hole();
      const angle = Math.atan2(point[1] - at[1], point[0] - at[0]) - Math.atan2(from[1] - at[1], from[0] - at[0]);
      turnTo((angle * 180) / Math.PI);
    });
    return made;
  }

  function turnTo(degrees) {
    deg = ((((degrees + 180) % 360) + 360) % 360) - 180;
    if (deg === -180 && degrees > 0) deg = 180;
    redraw();
  }

  // --- The hole -------------------------------------------------------------------------------------------------

  function holeMark([x, y]) {
    const data = lid();
    const said = say("hole_said", { size: inWords(fromCorner(), control()), margin: inWords(margin(data.outline, data.rim) ?? 0, control()) });
    const made = svg(
      "g",
      { class: "hole-mark", role: "slider", tabindex: 0, "aria-label": say("hole_knob"), "aria-valuemin": 0, "aria-valuemax": Math.round(data.most_mm), "aria-valuenow": Math.round(fromCorner()), "aria-valuetext": said, "data-keep": "hole" },
      svg("circle", { cx: x, cy: y, r: KNOB, class: "reach" }),
      svg("circle", { cx: x, cy: y, r: 6 }),
      svg("path", { d: `M${x - 12},${y}h24M${x},${y - 12}v24` }),
    );
    made.addEventListener("keydown", (event) => {
      const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
      if (!step) return;
      event.preventDefault();
      place_hole(fromCorner() + step * data.step_mm);
      letGo();
    });
    drag(
      made,
      (point) => {
        const [dx, dy] = [point[0] - data.corner[0], point[1] - data.corner[1]];
        place_hole(dx * data.into[0] + dy * data.into[1]);
      },
      letGo,
    );
    return made;
  }

  /** Puts the hole on the corner's diagonal, on a mark of the ruler. */
  function place_hole(along) {
    const data = lid();
    const marks = Math.round(Math.max(data.step_mm, Math.min(data.most_mm, along)) / data.step_mm);
    moved = [0, 1].map((axis) => data.corner[axis] + marks * data.step_mm * data.into[axis]);
    redraw();
  }

  async function letGo() {
    if (!moved) return;
    const value = inWords(fromCorner(), control());
    await edit([{ path: lid().hole_path, value }]);
    moved = null;
    redraw();
  }

  // --- Dragging -------------------------------------------------------------------------------------------------

  let dragging = null;

  function drag(element, move, done = () => {}) {
    element.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      dragging = { move, done };
      picture.setPointerCapture(event.pointerId);
      element.focus();
    });
  }
  picture.addEventListener("pointermove", (event) => {
    if (!dragging) return;
    const box = picture.getBoundingClientRect();
    dragging.move(onBox([((event.clientX - box.left) / box.width) * WIDE, ((event.clientY - box.top) / box.height) * TALL]));
  });
  for (const name of ["pointerup", "pointercancel"]) {
    picture.addEventListener(name, () => {
      const was = dragging;
      dragging = null;
      was?.done();
    });
  }

  function redraw() {
    const active = document.activeElement?.dataset?.keep;
    draw();
    if (active) picture.querySelector(`[data-keep="${active}"]`)?.focus({ preventScroll: true });
  }

  return {
    /** Shows the lids of the design; none hides the drawing. */
    show(found) {
      lids = found.map((each) => ({ ...each, knob: farthest(each.outline, each.hole) }));
      place.closest(".plate").hidden = !lids.length;
      if (!lids.length) return;
      chosen = Math.min(chosen, lids.length - 1);
      deg ??= lid().opened_deg;
      settle();
      redraw();
    },
    /** Turns it to where a check looks. */
    point(about) {
      if (!lids.length) return;
      deg = about.deg ?? deg;
      redraw();
    },
    fromEdge: () => fromEdge(hole(), lid().outline),
  };
}

/** A place a little inside the edge, opposite the hole: where a finger turns the lid. */
function farthest(outline, [hx, hy]) {
  const far = outline.reduce((best, point) => (Math.hypot(point[0] - hx, point[1] - hy) > Math.hypot(best[0] - hx, best[1] - hy) ? point : best));
  return [hx + 0.86 * (far[0] - hx), hy + 0.86 * (far[1] - hy)];
}
