// Shapes: a photograph or a drawing is dropped, its outline looked at over it, the paper's corners put right by
// dragging, and the shape kept or made a lid.

import { get, post, postFile, Away, Refused } from "./ask.js";
import { el, fill, say, sized, svg, tell } from "./dom.js";
import { drawOffline } from "./trouble.js";

let told = JSON.parse(document.getElementById("shapes").textContent);
const drop = document.getElementById("drop");
const trace = document.getElementById("trace");
const shelf = document.getElementById("shelf");
const troublePlace = document.getElementById("trouble");

const now = { file: null, corners: null, choose: "", symmetric: false, cuts: [] };

// --- Dropping a file ----------------------------------------------------------------------------------------------

function drawDrop() {
  const input = el("input", { type: "file", id: "file", class: "vh", accept: "image/jpeg,image/png,image/webp,image/svg+xml,.svg,.dxf", onchange: () => input.files[0] && begin(input.files[0]) });
  const zone = el(
    "label",
    {
      for: "file",
      class: "drop-zone",
      ondragover: (event) => {
        event.preventDefault();
        zone.classList.add("over");
      },
      ondragleave: () => zone.classList.remove("over"),
      ondrop: (event) => {
        event.preventDefault();
        zone.classList.remove("over");
        if (event.dataTransfer.files[0]) begin(event.dataTransfer.files[0]);
      },
    },
    say("drop"),
  );
  fill(
    drop,
    el("label", { for: "sheet-size" }, say("sheet_size")),
    el("input", { id: "sheet-size", class: "plain-input", list: "sheets", value: told.sheets[0] ?? "A4", autocomplete: "off", onchange: () => now.file && read() }),
    el("datalist", { id: "sheets" }, told.sheets.map((name) => el("option", { value: name }))),
    el("label", { for: "drawing-unit" }, say("drawing_unit")),
    el("select", { id: "drawing-unit", class: "plain-input", onchange: () => now.file && read() }, ["", "mm", "cm", "in"].map((unit) => el("option", { value: unit }, unit || "–"))),
    el("label", { for: "accuracy" }, say("shape_accuracy")),
    el("input", { id: "accuracy", class: "plain-input", placeholder: "0.05 mm", autocomplete: "off", onchange: () => now.file && read() }),
    input,
    zone,
  );
}

function begin(file) {
  Object.assign(now, { file, corners: null, choose: "", symmetric: false, cuts: [] });
  read();
}

async function read(again = false) {
  if (!again) fill(troublePlace);
  fill(trace, el("p", { class: "making", role: "status" }, say("tracing")), el("progress", { "aria-label": say("tracing") }));
  const asked = new URLSearchParams({ sheet: document.getElementById("sheet-size").value, unit: document.getElementById("drawing-unit").value, accuracy: document.getElementById("accuracy").value, choose: now.choose, symmetric: now.symmetric ? "yes" : "" });
  for (const cut of now.cuts) asked.append("trim", cut);
  if (now.corners) asked.set("corners", now.corners.map((point) => point.map((value) => value.toFixed(1)).join(",")).join(" "));
  try {
    const found = await postFile(`/api/shapes/trace?${asked}`, now.file);
    if (found.shape) drawTrace(found);
    else drawChoice(found);
  } catch (error) {
    fill(trace);
    trouble(error, read);
    if (error instanceof Refused && now.cuts.pop()) read(true);
  }
}

function drawChoice(found) {
  fill(
    trace,
    el("h2", { class: "large" }, say("choose_outline")),
    el(
      "ul",
      { class: "shelf" },
      found.found.map((each) =>
        el(
          "li",
          {},
          el("button", { type: "button", class: "shape-choice", onclick: () => {
            now.choose = String(each.number);
            read();
          } }, svg("svg", { viewBox: "0 0 100 100", "aria-hidden": "true" }, svg("path", { d: each.picture })), el("span", {}, say("outline_number", each))),
        ),
      ),
    ),
  );
}

// --- Looking at it ------------------------------------------------------------------------------------------------

function drawTrace(found) {
  const { shape } = found;
  const name = el("input", { class: "plain-input", id: "shape-name", maxlength: 60, value: shape.name === "shape" ? "" : shape.name, autocomplete: "off" });
  const source = el("input", { class: "plain-input", id: "shape-source", maxlength: 120, autocomplete: "off" });
  const sizes = el("input", { class: "plain-input", id: "shape-sizes", maxlength: 200, placeholder: "3, 4 1/4, 5 1/2 in", autocomplete: "off" });
  const replace = el("input", { type: "checkbox" });
  const again = el("label", { class: "check" }, replace, say("shape_replace"));
  const taken = () => (again.hidden = !told.shapes.some((each) => each.name.toLowerCase() === name.value.trim().toLowerCase()));
  name.addEventListener("input", taken);
  taken();
  const form = el(
    "form",
    {
      class: "begin",
      onsubmit: (event) => {
        event.preventDefault();
        keep({ name: name.value, source: source.value, sizes: sizes.value, points: shape.points, accuracy_mm: shape.accuracy_mm, replace: replace.checked });
      },
    },
    el("label", { for: "shape-name" }, say("shape_name")),
    name,
    el("label", { for: "shape-source" }, say("shape_source")),
    source,
    el("label", { for: "shape-sizes" }, say("shape_sizes")),
    sizes,
    again,
    el("button", { class: "do" }, say("shape_keep")),
  );
  fill(
    trace,
    el("h2", { class: "large" }, say("trace_title")),
    el("p", { class: "quiet" }, say(found.photograph ? "trace_note" : "trace_drawing")),
    el(
      "div",
      { class: "traced" },
      found.photograph ? photograph(found.photograph) : el("div", { class: "on-paper" }, svg("svg", { viewBox: "0 0 100 100", class: "outline-alone", role: "img", "aria-label": shape.across }, svg("path", { d: shape.picture }))),
      el(
        "div",
        {},
        el("p", { class: "hero" }, sized(shape.across)),
        el("p", { class: "recipe-note" }, sized(shape.across_other)),
        el("p", { class: "recipe-note" }, sized(say("across_words", shape))),
        el("p", { class: "recipe-note" }, sized(say("accuracy", { size: shape.accuracy }))),
        el("p", { class: "recipe-note" }, shape.symmetry),
        found.nearly || now.symmetric
          ? el("label", { class: "check" }, el("input", { type: "checkbox", checked: now.symmetric, onchange: (event) => {
              now.symmetric = event.target.checked;
              read();
            } }), say(found.nearly && found.nearly.fold < 2 ? "mirror_found" : "symmetric_found", { fold: found.nearly?.fold ?? "" }))
          : null,
        found.photograph?.doubts.map((doubt) => el("p", { class: "caution" }, sized(doubt))),
        form,
      ),
    ),
    trimming(found),
  );
  tell(say("trace_title"));
}

// --- Cutting some of it off -----------------------------------------------------------------------------------------

/** The outline in mm with its cuts: a line drawn over it is another one. */
function trimming({ read: outline, kept, shape }) {
  const wide = Math.max(...outline.map(([x]) => x));
  const tall = Math.max(...outline.map(([, y]) => y));
  const edge = 0.06 * Math.max(wide, tall);
  const data = (points) => `M${points.map(([x, y]) => `${x.toFixed(2)},${(tall - y).toFixed(2)}`).join("L")}Z`;
  const line = ([[a, b], [c, d]]) => svg("path", { d: `M${a},${tall - b}L${c},${tall - d}`, class: "cut-line", "stroke-width": edge / 8 });
  const ends = (text) => text.split(" ").map((point) => point.split(",").map(Number));
  const pen = { "stroke-width": edge / 14 };
  const picture = svg("svg", { viewBox: `${-edge} ${-edge} ${wide + 2 * edge} ${tall + 2 * edge}`, class: "trim-picture", role: "img", "aria-label": say("trim_picture", { size: shape.across }) }, svg("path", { d: data(outline), class: "trim-read", ...pen }), svg("path", { d: data(kept), class: "trim-kept", ...pen }), now.cuts.map((cut) => line(ends(cut))));
  const at = (event) => {
    const inside = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse());
    return [inside.x, tall - inside.y];
  };
  let from = null;
  let drawn = null;
  picture.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    picture.setPointerCapture(event.pointerId);
    from = at(event);
  });
  picture.addEventListener("pointermove", (event) => {
    if (!from) return;
    drawn?.remove();
    drawn = line([from, at(event)]);
    picture.append(drawn);
  });
  picture.addEventListener("pointerup", (event) => {
    const to = at(event);
    if (from && Math.hypot(to[0] - from[0], to[1] - from[1]) > edge / 2) cut(from, to);
    from = null;
  });
  const cut = (...points) => {
    now.cuts.push(points.map((point) => point.map((value) => value.toFixed(2)).join(",")).join(" "));
    read();
  };
  const written = el("input", { class: "plain-input", id: "trim-ends", placeholder: "10,0 10,80", autocomplete: "off" });
  const form = el(
    "form",
    {
      class: "begin",
      onsubmit: (event) => {
        event.preventDefault();
        if (!written.value.trim()) return;
        now.cuts.push(written.value.trim());
        read();
      },
    },
    el("label", { for: "trim-ends" }, say("trim_write")),
    written,
    el("button", { class: "step" }, say("trim_do")),
    now.cuts.length
      ? el("button", { type: "button", class: "link", onclick: () => {
          now.cuts.pop();
          read();
        } }, say("trim_back"))
      : null,
  );
  return el("details", { open: now.cuts.length > 0 }, el("summary", {}, say("trim_title")), el("p", { class: "quiet" }, say("trim_note")), el("div", { class: "traced" }, el("div", { class: "on-paper" }, picture), form));
}

/** The photograph with its trace, and handles on the paper's corners. */
function photograph({ picture, corners }) {
  const image = el("img", { src: picture, alt: say("trace_note"), draggable: "false" });
  const layer = svg("svg", { class: "corners" });
  const frame = el("div", { class: "photo-frame" }, image, layer);
  const again = el("button", { type: "button", class: "step", hidden: true, onclick: () => read() }, say("read_again"));
  const points = corners.map((point) => [...point]);
  const place = () => {
    const [wide, tall] = [Number(frame.dataset.wide), Number(frame.dataset.tall)];
    layer.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
    const size = wide / 40;
    fill(
      layer,
      svg("path", { d: `M${points.map((point) => point.join(",")).join("L")}Z`, class: "sheet-edge", "stroke-width": size / 6 }),
      points.map((point, number) => handle(point, number, size)),
    );
  };
  const handle = (point, number, size) => {
    const made = svg("circle", { cx: point[0], cy: point[1], r: size, class: "corner-handle", "stroke-width": size / 5, tabindex: 0, role: "button", "aria-label": say("corner", { number: number + 1 }) });
    const move = (to) => {
      points[number] = [Math.max(0, Math.min(Number(frame.dataset.wide), to[0])), Math.max(0, Math.min(Number(frame.dataset.tall), to[1]))];
      now.corners = points;
      again.hidden = false;
      place();
      layer.querySelectorAll("circle")[number].focus();
    };
    made.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!step) return;
      event.preventDefault();
      const by = event.shiftKey ? 10 : 2;
      move([points[number][0] + by * step[0], points[number][1] + by * step[1]]);
    });
    made.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      layer.setPointerCapture(event.pointerId);
      const follow = (moved) => {
        const box = layer.getBoundingClientRect();
        move([((moved.clientX - box.left) / box.width) * Number(frame.dataset.wide), ((moved.clientY - box.top) / box.height) * Number(frame.dataset.tall)]);
      };
      layer.addEventListener("pointermove", follow);
      layer.addEventListener("pointerup", () => layer.removeEventListener("pointermove", follow), { once: true });
    });
    return made;
  };
  image.addEventListener("load", () => {
    // The corners are told in the photograph's own pixels; the picture of the trace may be smaller.
    const xs = corners.map(([x]) => x);
    const ys = corners.map(([, y]) => y);
    const scale = Math.max(1, Math.max(...xs) / image.naturalWidth, Math.max(...ys) / image.naturalHeight);
    frame.dataset.wide = String(image.naturalWidth * scale);
    frame.dataset.tall = String(image.naturalHeight * scale);
    place();
  });
  return el("div", {}, frame, again);
}

async function keep(shape) {
  try {
    told = await post("/api/shapes/keep", shape);
    fill(troublePlace);
    fill(trace, el("p", { role: "status" }, say("shape_kept", { name: shape.name })));
    drawShelf();
  } catch (error) {
    trouble(error, () => keep(shape));
  }
}

// --- The shelf ----------------------------------------------------------------------------------------------------

function drawShelf() {
  if (!told.shapes.length) {
    fill(shelf, el("p", { class: "quiet" }, say("shelf_empty")));
    return;
  }
  fill(
    shelf,
    el("ul", { class: "shelf" }, told.shapes.map((shape, at) => one(shape, at))),
    told.unreadable.map((each) => el("p", { class: "wrong" }, `${each.file}: ${each.why}`)),
  );
}

function one(shape, at) {
  const id = `use-${at}`;
  const choice = el("select", { id, class: "plain-input" }, told.projects.map((project) => el("option", { value: project.id }, project.name)));
  return el(
    "li",
    {},
    svg("svg", { viewBox: "0 0 100 100", "aria-hidden": "true" }, svg("path", { d: shape.picture })),
    el("h3", { dir: "auto" }, shape.name),
    el("p", { class: "recipe-note" }, sized(shape.sizes.length ? shape.sizes.join(", ") : `${shape.across}, ${shape.across_other}`)),
    shape.source ? el("p", { class: "quiet" }, shape.source) : null,
    told.projects.length ? [el("label", { for: id, class: "quiet" }, say("use_in")), choice, el("button", { type: "button", class: "step", "aria-label": say("of_name", { what: say("use_do"), name: shape.name }), onclick: () => use(shape.name, choice.value) }, say("use_do"))] : null,
    renaming === shape.name ? renameForm(shape) : el("button", { type: "button", class: "link", "aria-label": say("of_name", { what: say("rename_do"), name: shape.name }), onclick: () => ask(shape.name) }, say("rename_do")),
    el("button", { type: "button", class: "link", "aria-label": say("of_name", { what: say("remove_do"), name: shape.name }), onclick: () => remove(shape.name) }, say("remove_do")),
  );
}

let renaming = null; // the shape that is being given another name

function ask(name) {
  renaming = name;
  drawShelf();
  document.getElementById("new-shape-name")?.focus();
}

function renameForm(shape) {
  const input = el("input", { class: "plain-input", id: "new-shape-name", value: shape.name, maxlength: 60, "aria-label": say("rename_to") });
  return el(
    "form",
    {
      class: "question",
      onsubmit: (event) => {
        event.preventDefault();
        rename(shape.name, input.value);
      },
    },
    input,
    el("button", { class: "step" }, say("rename_do")),
    el("button", { type: "button", class: "link", onclick: () => ask(null) }, say("close")),
  );
}

async function rename(name, newName) {
  try {
    told = await post("/api/shapes/rename", { name, new_name: newName });
    renaming = null;
    drawShelf();
  } catch (error) {
    trouble(error, () => rename(name, newName));
  }
}

async function use(name, project) {
  try {
    const { id } = await post("/api/shapes/use", { name, project });
    location.href = `/p/${id}`;
  } catch (error) {
    trouble(error, () => use(name, project));
  }
}

async function remove(name) {
  try {
    told = await post("/api/shapes/remove", { name });
    drawShelf();
  } catch (error) {
    trouble(error, () => remove(name));
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) {
    fill(troublePlace, error.problems.map((problem) => el("p", { class: "wrong", role: "alert" }, sized(`${problem.field} ${problem.reason}. ${problem.remedy}.`))));
    troublePlace.scrollIntoView({ block: "center" });
  } else throw error;
}

drawDrop();
drawShelf();
get("/api/shapes").then((fresh) => {
  told = fresh;
  drawShelf();
}, () => {});
