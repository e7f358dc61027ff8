// The lid from above: she turns it by its knob, moves it over the box when it is closed, and drags the hole; what is
// uncovered and how far it covers follow the finger. A place is kept when she lets go; the workbench measures it again.

import { el, fill, say, sized, svg } from "./dom.js";
import { inWords } from "./slip.js";
import { margin, moved, turned, uncovered } from "./plane.js";

const WIDE = 480;
const TALL = 440;
const KNOB = 24;
const EDGE = 34;
const TURN_STEP = 5;
const NEARLY_CLOSED = 3; // degrees within which letting go of the lid closes it

export function mountLid(place, { edit }) {
  let lids = [];
  let chosen = 0;
  let deg = null;
  let hole = null; // the hole while it is dragged, in mm
  let shift = null; // how far the closed lid is moved while it is dragged, in mm

  const picture = svg("svg", { viewBox: `0 0 ${WIDE} ${TALL}`, class: "lid-picture", "aria-label": say("lid"), role: "group" });
  const which = el("div", { class: "choices" });
  const ways = el("div", { class: "steps-line" });
  const readings = el("div", { class: "readings" });
  fill(place, which, picture, ways, readings);

  const lid = () => lids[chosen];
  const holeAt = () => hole ?? lid().hole;
  const by = () => (shift ? [shift[0] - lid().shift[0], shift[1] - lid().shift[1]] : [0, 0]);
  const outline = () => moved(lid().outline, by());
  const control = () => ({ unit: lid().unit, steps_per_unit: lid().steps_per_unit });
  const words = (mm) => inWords(mm, control());
  const closed = () => deg === 0;

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
    const at = holeAt();
    const knobAt = onPage(turned(moved([data.knob], by()), at, deg)[0]);
    const name = [Math.min(...data.rim.map(([x]) => x)), Math.min(...data.rim.map(([, y]) => y))];
    fill(
      picture,
      svg("path", { d: path(data.rim), class: "box-rim" }),
      svg("path", { d: path(data.opening), class: "box-opening", "data-name": "opening" }),
      body(data.layers.map((layer, number) => svg("path", { d: path(turned(moved(layer, by()), at, deg)), class: number ? "lid-layer" : "lid-layer lowest" })), path(turned(outline(), at, deg))),
      svg("path", { d: path(data.rim), class: "beneath", "data-name": "rim" }),
      svg("path", { d: path(data.triangle), class: "beneath", "data-name": "triangle" }),
      svg("text", { x: onPage(name)[0] + 8, y: onPage(name)[1] - 10, class: "soft-text" }, say("box_beneath")),
      knob(knobAt),
      holeMark(onPage(at)),
    );
    figures();
  }

  function figures() {
    const data = lid();
    const share = uncovered(outline(), data.opening, holeAt(), deg);
    const now = margin(outline(), data.rim);
    const state = now === null || now < data.cover_fail_mm ? "fails" : now < data.cover_look_mm ? "look" : "holds";
    fill(
      readings,
      reading(say("uncovered"), `${Math.round(100 * share)} %`, say("turned", { deg: Math.round(Math.abs(deg)) })),
      reading(say("margin"), now === null ? say("no_margin") : words(now), say("margin_asked", { size: words(data.cover_fail_mm), better: words(data.cover_look_mm) }), state),
    );
    fill(
      ways,
      el("button", { type: "button", class: "step", "aria-pressed": String(closed()), onclick: () => turnTo(0) }, say("close_lid")),
      el("button", { type: "button", class: "step", "aria-pressed": String(deg === data.opened_deg), onclick: () => turnTo(data.opened_deg) }, say("open_lid")),
      el("p", { class: "quiet" }, say(closed() ? "closed_hint" : "open_hint"), " ", sized(holeWords())),
    );
  }

  const holeWords = () => {
    const aside = beside();
    if (Math.abs(aside) < lid().step_mm / 2) return say("hole_is", { size: words(along()) });
    return say(aside > 0 ? "hole_right" : "hole_left", { size: words(along()), aside: words(Math.abs(aside)) });
  };

  const reading = (title, big, small, state = "holds") =>
    el("div", { class: `reading ${state}` }, el("span", { class: "quiet" }, title), el("b", {}, sized(big)), el("span", { class: "quiet" }, sized(small)));

  // --- The lid itself -------------------------------------------------------------------------------------------

  function body(layers, edge) {
    const made = svg(
      "g",
      closed()
        ? {
            class: "lid-body closed",
            role: "slider",
            tabindex: 0,
            "aria-label": say("lid_move"),
            "aria-valuemin": -100,
            "aria-valuemax": 100,
            "aria-valuenow": Math.round((shift ?? lid().shift)[0]),
            "aria-valuetext": movedWords(),
            "data-keep": "body",
          }
        : { class: "lid-body" },
      layers,
      svg("path", { d: edge, class: "lid-outline", "data-name": "lid" }),
    );
    made.addEventListener("keydown", (event) => {
      const step = { ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowLeft: [-1, 0], ArrowDown: [0, -1] }[event.key];
      if (!step || !closed()) return;
      event.preventDefault();
      const from = shift ?? lid().shift;
      moveTo([from[0] + step[0] * lid().step_mm, from[1] + step[1] * lid().step_mm]);
      letGo();
    });
    drag(made, (point, start) => (closed() ? moveBy(point, start) : turnBy(point, start)), () => (shift ? letGo() : closeIfNearly()));
    return made;
  }

  function movedWords() {
    const [right, back] = shift ?? lid().shift;
    return say("lid_moved", { right: words(right), back: words(back), margin: words(margin(outline(), lid().rim) ?? 0) });
  }

  function moveBy(point, start) {
    const from = (start.shift ??= [...lid().shift]);
    moveTo([from[0] + point[0] - start.point[0], from[1] + point[1] - start.point[1]]);
  }

  /** Puts the closed lid on marks of the ruler, right and back of the box's middle. */
  function moveTo(to) {
    const data = lid();
    const most = data.most_shift_mm;
    shift = to.map((value) => Math.round(Math.max(-most, Math.min(most, value)) / data.step_mm) * data.step_mm);
    redraw();
  }

  function turnBy(point, start) {
    const at = holeAt();
    const angle = (to) => Math.atan2(to[1] - at[1], to[0] - at[0]);
    start.deg ??= deg;
    turnTo(start.deg + ((angle(point) - angle(start.point)) * 180) / Math.PI);
  }

  function closeIfNearly() {
    if (Math.abs(deg) < NEARLY_CLOSED) turnTo(0);
  }

  // --- The knob -------------------------------------------------------------------------------------------------

  function knob([x, y]) {
    const share = Math.round(100 * uncovered(outline(), lid().opening, holeAt(), deg));
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
    drag(made, turnBy, closeIfNearly);
    return made;
  }

  function turnTo(degrees) {
    deg = ((((degrees + 180) % 360) + 360) % 360) - 180;
    if (deg === -180 && degrees > 0) deg = 180;
    redraw();
  }

  // --- The hole -------------------------------------------------------------------------------------------------

  /** How far the hole lies from the inner corner along its diagonal, and how far beside that line. */
  const along = () => dot(fromCorner(holeAt()), lid().into);
  const beside = () => dot(fromCorner(holeAt()), lid().beside);
  const fromCorner = (point) => [point[0] - lid().corner[0], point[1] - lid().corner[1]];

  function holeMark([x, y]) {
    const data = lid();
    const said = say("hole_said", { size: words(along()), margin: words(margin(outline(), data.rim) ?? 0) });
    const made = svg(
      "g",
      { class: "hole-mark", role: "slider", tabindex: 0, "aria-label": say("hole_knob"), "aria-valuemin": 0, "aria-valuemax": Math.round(data.most_mm), "aria-valuenow": Math.round(along()), "aria-valuetext": said, "data-keep": "hole", "data-name": "hole" },
      svg("circle", { cx: x, cy: y, r: KNOB, class: "reach" }),
      svg("circle", { cx: x, cy: y, r: 6 }),
      svg("path", { d: `M${x - 12},${y}h24M${x},${y - 12}v24` }),
    );
    made.addEventListener("keydown", (event) => {
      const step = { ArrowRight: [1, 0], ArrowUp: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [-1, 0], PageUp: [0, 1], PageDown: [0, -1] }[event.key];
      if (!step) return;
      event.preventDefault();
      putHole(along() + step[0] * data.step_mm, beside() + step[1] * data.step_mm);
      letGo();
    });
    drag(
      made,
      (point) => putHole(dot(fromCorner(point), data.into), dot(fromCorner(point), data.beside)),
      letGo,
    );
    return made;
  }

  /** Puts the hole on marks of the ruler: along the corner's diagonal, and beside it. */
  function putHole(far, aside) {
    const data = lid();
    const mark = (value) => Math.round(value / data.step_mm) * data.step_mm;
    const on = mark(Math.max(data.least_mm, Math.min(data.most_mm, far)));
    const off = mark(Math.max(-on, Math.min(on, aside)));
    hole = [0, 1].map((axis) => data.corner[axis] + on * data.into[axis] + off * data.beside[axis]);
    redraw();
  }

  /** Keeps what was moved. */
  async function letGo() {
    const data = lid();
    const changes = [];
    if (hole) {
      changes.push({ path: data.hole_path, value: words(along()) });
      if (Math.abs(beside()) > 1e-6 || Math.abs(dot(fromCorner(data.hole), data.beside)) > 1e-6) changes.push({ path: data.beside_path, value: words(beside()) });
    }
    if (shift) changes.push(...data.moved_paths.map((path, axis) => ({ path, value: words(shift[axis]) })));
    if (!changes.length) return;
    await edit(changes);
    hole = null;
    shift = null;
    redraw();
  }

  // --- Dragging -------------------------------------------------------------------------------------------------

  let dragging = null;

  const pointAt = (event) => {
    const box = picture.getBoundingClientRect();
    return onBox([((event.clientX - box.left) / box.width) * WIDE, ((event.clientY - box.top) / box.height) * TALL]);
  };

  function drag(element, move, done = () => {}) {
    element.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      event.stopPropagation();
      dragging = { move, done, start: { point: pointAt(event) } };
      picture.setPointerCapture(event.pointerId);
      element.focus?.({ preventScroll: true });
    });
  }
  picture.addEventListener("pointermove", (event) => {
    if (dragging) dragging.move(pointAt(event), dragging.start);
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

  function chooser() {
    const one = (each, at) => el("label", {}, el("input", { type: "radio", name: "which-lid", checked: at === chosen, onchange: () => choose(at) }), each.part);
    fill(which, lids.length > 1 ? lids.map(one) : null);
  }

  function choose(at) {
    chosen = at;
    deg = lid().opened_deg;
    settle();
    redraw();
  }

  return {
    /** Shows the lids of the design; none hides the drawing. */
    show(found) {
      const wasOpen = lids.length > 0 && deg === lid().opened_deg;
      lids = found.map((each) => ({ ...each, knob: farthest(each.outline, each.hole) }));
      place.closest(".plate").hidden = !lids.length;
      if (!lids.length) return;
      chosen = Math.min(chosen, lids.length - 1);
      if (deg === null || wasOpen) deg = lid().opened_deg;
      if (dragging) return;
      chooser();
      settle();
      redraw();
    },
    /** Turns it to where a check looks, and marks what it looks at. */
    point(about) {
      if (!lids.length) return;
      const at = lids.findIndex((each) => each.part === about.part);
      if (at >= 0 && at !== chosen) {
        choose(at);
        chooser();
      }
      deg = about.deg ?? deg;
      redraw();
      for (const name of about.names ?? []) picture.querySelector(`[data-name="${CSS.escape(name)}"]`)?.classList.add("marked");
    },
  };
}

const dot = ([a, b], [x, y]) => a * x + b * y;

/** A place a little inside the edge, opposite the hole: where a finger turns the lid. */
function farthest(outline, [hx, hy]) {
  const far = outline.reduce((best, point) => (Math.hypot(point[0] - hx, point[1] - hy) > Math.hypot(best[0] - hx, best[1] - hy) ? point : best));
  return [hx + 0.86 * (far[0] - hx), hy + 0.86 * (far[1] - hy)];
}
