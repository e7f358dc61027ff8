// The folded thing in space, led through the proved steps: back, on, play, or anywhere within a step. Drawn with one
// pen: every face filled with the card's own colour, its edges in ink, far ones first.

import { el, fill, say, sized, still, svg } from "./dom.js";
import { farToNear, isConvex, pose, rings, rotate } from "./space.js";

const WIDE = 560;
const TALL = 440;
const EDGE = 26;
const LIGHT = [-0.35, -0.55, 0.76];
const SORTED_WITH = 48; // corners of a face that its place in the order is found with
const START = { yaw: -0.62, pitch: 0.62 };
const PACE = 1; // seconds of the model for a second on the wall

/** Mounts the drawing and its controls; gives `show`, `checking` and `point`. */
export function mountFold(place) {
  const picture = svg("svg", { viewBox: `0 0 ${WIDE} ${TALL}`, class: "fold", role: "img", tabindex: 0, "aria-label": say("fold_alt") });
  const told = el("div", { class: "step-words", "aria-live": "off" });
  const numbers = el("div", { class: "step-numbers" });
  const slider = el("input", { type: "range", min: 0, max: 1000, value: 1000, "aria-label": say("within_step") });
  const buttons = {
    back: el("button", { type: "button", class: "step" }, say("back")),
    on: el("button", { type: "button", class: "step" }, say("on")),
    play: el("button", { type: "button", class: "link" }, say("play")),
  };
  const view = { ...START };
  const now = { model: null, steps: [], step: 0, share: 1, playing: 0, marked: new Set(), part: "" };

  fill(
    place,
    picture,
    el("p", { class: "vh" }, say("turn_view")),
    told,
    el("div", { class: "steps-line" }, buttons.back, buttons.on, buttons.play),
    slider,
    numbers,
  );

  // --- Drawing ------------------------------------------------------------------------------------------------

  const clock = () => {
    const step = now.steps[now.step];
    const time = step ? step.from + now.share * (step.to - step.from) : 0;
    return Object.fromEntries(now.model.clips.map((clip) => [clip, !step ? 0 : clip === step.clip ? time : before(clip, step) ? Infinity : 0]));
  };
  const before = (clip, step) => now.model.clips.indexOf(clip) < now.model.clips.indexOf(step.clip);

  function seen(point) {
    const [x, y, z] = point;
    const [c, s] = [Math.cos(view.yaw), Math.sin(view.yaw)];
    const [across, away] = [c * x - s * y, s * x + c * y];
    const [d, e] = [Math.cos(view.pitch), Math.sin(view.pitch)];
    return [across, z * d + away * e, z * e - away * d]; // right, up, towards the eye
  }

  function faces() {
    const poses = pose(now.model, clock());
    return now.model.nodes.flatMap((node, number) => {
      if (!node.plate) return [];
      const { at, turn } = poses[number];
      const normal = rotate(turn, [0, 0, 1]);
      const face = seen(normal);
      const up = face[2] > 0;
      // Of a plate's two sides the one that is seen: layers that touch have their inner sides in one plane.
      const low = up ? 0 : node.plate.thick;
      const points = node.plate.points.map(([x, y, z]) => seen(rotate(turn, [x, y, z - low]).map((value, axis) => value + at[axis])));
      return [{ node, points, normal: up ? normal : normal.map((value) => -value), face, material: up ? node.plate.upper : node.plate.under }];
    });
  }

  function draw() {
    if (!now.model) return;
    const drawn = faces();
    const box = [Infinity, Infinity, -Infinity, -Infinity];
    for (const { points } of drawn) {
      for (const [x, y] of points) {
        box[0] = Math.min(box[0], x);
        box[1] = Math.min(box[1], y);
        box[2] = Math.max(box[2], x);
        box[3] = Math.max(box[3], y);
      }
    }
    const scale = Math.min((WIDE - 2 * EDGE) / (box[2] - box[0]), (TALL - 2 * EDGE) / (box[3] - box[1]));
    const middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    const onPage = ([x, y]) => `${(WIDE / 2 + scale * (x - middle[0])).toFixed(1)},${(TALL / 2 - scale * (y - middle[1])).toFixed(1)}`;
    const sorted = farToNear(drawn.map(sortable));
    fill(
      picture,
      sorted.map((number) => {
        const { node, points, material, normal } = drawn[number];
        const data = node.rings.map((ring) => `M${ring.map((corner) => onPage(points[corner])).join("L")}Z`).join("");
        return svg("path", { d: data, fill: shade(now.model.materials[material], normal), "fill-rule": "evenodd", class: marked(node.about) ? "face marked" : "face", "data-panel": node.about.panel, "data-piece": node.about.piece, "data-part": node.about.part });
      }),
    );
  }

  /** A panel is marked by its name, with or without its piece before a colon, or with its whole piece. */
  const marked = ({ part, piece, panel }) =>
    (!now.part || now.part === part) && (now.marked.has(panel) || now.marked.has(`${piece}:${panel}`) || now.marked.has(piece));

  function sortable({ node, points, face }) {
    const ring = node.rings[0];
    const step = Math.max(1, Math.floor(ring.length / SORTED_WITH));
    const flat = ring.filter((_, at) => at % step === 0).map((corner) => [points[corner][0], points[corner][1]]);
    const xs = flat.map(([x]) => x);
    const ys = flat.map(([, y]) => y);
    const [px, py, pz] = points[ring[0]];
    // An upright face seen on edge covers nothing; a hair of tilt gives it a plane all the same.
    const tilt = Math.abs(face[2]) < 1e-6 ? 1e-6 : face[2];
    const plane = [-face[0] / tilt, -face[1] / tilt, (face[0] * px + face[1] * py) / tilt + pz];
    const depth = points.reduce((sum, point) => sum + point[2], 0) / points.length;
    return { flat, plane, depth, convex: isConvex(flat), box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] };
  }

  // --- Steps --------------------------------------------------------------------------------------------------

  function words() {
    const step = now.steps[now.step];
    if (!step) {
      fill(told);
      return;
    }
    fill(
      told,
      el("p", { class: "count" }, say("step_of", { number: now.step + 1, count: now.steps.length })),
      el("p", { class: "title" }, sized(step.title)),
      el("p", {}, sized(step.text)),
      step.caution ? el("p", { class: "caution" }, sized(step.caution)) : null,
    );
    buttons.back.disabled = now.step === 0 && now.share === 0;
    buttons.on.disabled = now.step === now.steps.length - 1 && now.share === 1;
    for (const [at, button] of [...numbers.children].entries()) {
      if (at === now.step) button.setAttribute("aria-current", "step");
      else button.removeAttribute("aria-current");
    }
    slider.value = Math.round(1000 * now.share);
  }

  function go(step, share) {
    now.step = Math.max(0, Math.min(now.steps.length - 1, step));
    now.share = Math.max(0, Math.min(1, share));
    words();
    draw();
  }

  function stop() {
    cancelAnimationFrame(now.playing);
    now.playing = 0;
    fill(buttons.play, say("play"));
  }

  /** Moves through a step, then on through the others when all is played. */
  function move(step, all) {
    stop();
    if (still()) {
      go(all ? now.steps.length - 1 : step, 1);
      return;
    }
    const seconds = Math.max(0.3, (now.steps[step].to - now.steps[step].from) / PACE);
    const began = performance.now();
    go(step, 0);
    if (all) fill(buttons.play, say("stop"));
    const frame = (time) => {
      const share = Math.min(1, (time - began) / 1000 / seconds);
      go(step, share);
      if (share < 1) now.playing = requestAnimationFrame(frame);
      else if (all && step + 1 < now.steps.length) move(step + 1, true);
      else stop();
    };
    now.playing = requestAnimationFrame(frame);
  }

  buttons.back.addEventListener("click", () => {
    stop();
    if (now.share > 0) go(now.step, 0);
    else go(now.step - 1, 0);
  });
  buttons.on.addEventListener("click", () => {
    const whole = now.share === 1;
    if (whole && now.step + 1 < now.steps.length) move(now.step + 1, false);
    else move(now.step, false);
  });
  buttons.play.addEventListener("click", () => (now.playing ? stop() : move(0, true)));
  slider.addEventListener("input", () => {
    stop();
    go(now.step, slider.value / 1000);
  });

  // --- Looking from another side --------------------------------------------------------------------------------

  const look = (yaw, pitch) => {
    view.yaw += yaw;
    view.pitch = Math.max(0.05, Math.min(1.5, view.pitch + pitch));
    draw();
  };
  let held = null;
  picture.addEventListener("pointerdown", (event) => {
    held = [event.clientX, event.clientY];
    picture.setPointerCapture(event.pointerId);
  });
  picture.addEventListener("pointermove", (event) => {
    if (!held) return;
    look((event.clientX - held[0]) * 0.008, (event.clientY - held[1]) * 0.006);
    held = [event.clientX, event.clientY];
  });
  for (const name of ["pointerup", "pointercancel"]) picture.addEventListener(name, () => (held = null));
  picture.addEventListener("keydown", (event) => {
    const turn = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] }[event.key];
    if (!turn) return;
    event.preventDefault();
    look(...turn);
  });

  return {
    /** Shows a proved model; null shows that there is none. */
    show(model, steps = []) {
      stop();
      place.classList.remove("checking");
      if (!model) {
        now.model = null;
        fill(picture);
        fill(told, el("p", { class: "quiet" }, say("cannot")));
        fill(numbers);
        return;
      }
      for (const node of model.nodes) if (node.plate) node.rings = rings(node.plate);
      const first = !now.model;
      now.model = model;
      now.steps = steps;
      fill(numbers, steps.map((step, at) => el("button", { type: "button", "aria-label": `${say("step_of", { number: at + 1, count: steps.length })}: ${step.title}`, onclick: () => move(at, false) }, String(at + 1))));
      const last = steps.length - 1;
      go(first ? last : Math.min(now.step, last), first ? 1 : now.share);
    },
    /** What is shown belongs to the design before the change. */
    checking() {
      stop();
      place.classList.add("checking");
    },
    /** Marks parts by name and goes to a step. */
    point(about) {
      stop();
      now.marked = new Set(about.names ?? []);
      now.part = about.part ?? "";
      if (about.step !== undefined && about.step !== null) go(about.step, 1);
      else draw();
    },
  };
}

function shade(colour, normal) {
  const lit = Math.max(0, normal[0] * LIGHT[0] + normal[1] * LIGHT[1] + normal[2] * LIGHT[2]);
  const amount = 0.74 + 0.26 * lit;
  const dark = matchMedia("(prefers-color-scheme: dark)").matches ? 0.62 : 1;
  const channel = (at) => Math.round(parseInt(colour.slice(at, at + 2), 16) * amount * dark);
  return `rgb(${channel(1)},${channel(3)},${channel(5)})`;
}
