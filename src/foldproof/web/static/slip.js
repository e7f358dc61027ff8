// The control of one phrase, on a slip of paper that pushes the page down: type it, step it, choose it, leave it open.

import { get } from "./ask.js";
import { el, fill, say, sized, svg } from "./dom.js";

const RULER = { width: 440, height: 46, left: 14, right: 14 };

/** The slip of a phrase. Its fields keep what was typed when it is wrong, and say what would be right. */
export function slip(part, desk, actions) {
  const control = part.control;
  const wrong = el("p", { class: "wrong", id: "slip-wrong", role: "alert" });
  const change = async (value) => {
    const problems = await actions.edit([{ path: control.path, value }]);
    fill(wrong, problems.map((problem) => el("span", {}, `${sentence(problem.reason)} ${sentence(problem.remedy)} `)));
    return problems.length === 0;
  };
  const close = () => {
    actions.open(null);
    document.querySelector(`button[data-phrase="${CSS.escape(part.phrase)}"]`)?.focus();
  };
  return el(
    "section",
    {
      class: "slip",
      "aria-label": control.label,
      onkeydown: (event) => {
        if (event.key === "Escape") {
          event.stopPropagation();
          close();
        }
      },
    },
    el("header", {}, el("h2", {}, sentence(control.label)), el("button", { type: "button", class: "link", onclick: close, "data-keep": "close" }, say("close"))),
    body(part, desk, change),
    wrong,
    ways(part, desk, change),
  );
}

function body(part, desk, change) {
  const control = part.control;
  if (control.kind === "shape") return [choices(control, change), el("a", { class: "link", href: "/shapes" }, say("my_own_shape"))];
  if (["choice", "part"].includes(control.kind)) return choices(control, change);
  if (control.kind === "length_or_choice") return [number(control, change, desk), choices(control, change)];
  if (["length", "angle", "count"].includes(control.kind)) return [number(control, change, desk), control.choices.length ? choices(control, change) : null];
  return number(control, change, desk);
}

/** A field to type in, with steps beside it and, for a length, its place on a ruler. */
function number(control, change, desk) {
  const isLength = control.kind.startsWith("length");
  const input = el("input", {
    class: "value",
    value: vulgar(withUnit(openValue(control) ? (control.worked_out ?? "") : control.value, control)),
    "aria-label": control.label,
    "aria-describedby": "slip-wrong slip-range",
    autocomplete: "off",
    spellcheck: "false",
    inputmode: control.kind === "count" ? "numeric" : "text",
    "data-first": true,
    "data-keep": "value",
    list: control.known?.length ? "slip-known" : null,
    placeholder: control.example || null,
    onkeydown: (event) => {
      if (event.key === "Enter") take();
    },
    onchange: () => take(),
  });
  input.dataset.sent = input.value.trim();
  const take = async () => {
    const value = input.value.trim();
    if (value === input.dataset.sent) return;
    input.dataset.sent = value;
    input.setAttribute("aria-invalid", String(!(await change(value))));
  };
  const steps = stepping(control, change);
  return el(
    "div",
    { class: "value-row" },
    el("div", { class: "value-column" }, input, control.known?.length ? el("datalist", { id: "slip-known" }, control.known.map((name) => el("option", { value: name }))) : null, control.other ? el("p", { class: "other" }, sized(isLength ? say("or", { other: control.other }) : control.other)) : null, steps),
    isLength && control.least ? rulerColumn(control, desk) : control.least ? el("p", { id: "slip-range", class: "range" }, range(control)) : null,
  );
}

const range = (control) => sized(say("range", { least: control.least, most: control.most }));

/** The ruler, and beside it how far this length can really go in this design, as soon as that is worked out. */
function rulerColumn(control, desk) {
  const words = el("p", { id: "slip-range", class: "range" }, range(control));
  const place = el("div", { class: "ruler-column" }, ruler(control), words);
  if (control.ranged) {
    get(`/api/p/${desk.id}/range?version=${desk.state.version}&path=${encodeURIComponent(control.path)}`).then(
      (found) => {
        if (!found.most) return;
        const known = { ...control, ...found };
        const why = [found.why_least && `${say("shorter")} ${found.why_least}`, found.why_most && `${say("longer")} ${found.why_most}`].filter(Boolean);
        fill(place, ruler(known), words);
        fill(words, range(known), " ", sized(why.map(sentence).join(" ")));
      },
      () => {},
    );
  }
  return place;
}

const VULGAR = { "1/4": "¼", "1/2": "½", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞" };

/** A size with its fraction as one character, where there is one: it is read at once, and typed back as it stands. */
const vulgar = (text) => text.replace(/(?:(\d+) )?\b(\d\/\d)\b(?!\d)/g, (all, whole, part) => (VULGAR[part] ? `${whole ?? ""}${VULGAR[part]}` : all));

/** A bare number of a length has its unit beside it, so that nobody wonders. */
const withUnit = (text, control) => (control.kind.startsWith("length") && /^[\d\s./,]+$/.test(text) ? `${text.trim()} ${control.unit ?? ""}`.trim() : text);

const openValue = (control) => control.value.trim().toLowerCase() === control.open_word;

/** Buttons that make it a mark more or less. */
function stepping(control, change) {
  const now = current(control);
  if (now === null || control.kind === "number" || control.kind === "text") return null;
  const length = control.kind.startsWith("length");
  const step = length ? control.step_mm * (control.unit === "in" ? 2 : 1) : 1;
  const least = length ? control.least_mm : Number(control.least);
  const most = length ? control.most_mm : Number(control.most);
  const written = (value) => (length ? inWords(value, control) : String(value));
  const stepText = written(step);
  const button = (key, sign, by) =>
    el(
      "button",
      {
        type: "button",
        class: "step",
        "aria-label": say(key, { step: stepText }),
        "data-keep": key,
        disabled: now + by < least - 1e-6 || now + by > most + 1e-6,
        onclick: () => change(written(now + by)),
      },
      sign,
      " ",
      sized(stepText),
    );
  return el("div", { class: "steps" }, button("less", "−", -step), button("more_by", "+", step));
}

/** The value as a number: mm for a length. */
function current(control) {
  if (control.mm !== undefined) return control.mm;
  const number = Number(control.value);
  return control.kind.startsWith("length") || Number.isNaN(number) || control.value === "" ? null : number;
}

/** A length on the marks of the maker's ruler, as she would write it. */
export function inWords(mm, control) {
  if (mm < 0) {
    const told = inWords(-mm, control);
    return /^0 /.test(told) ? told : `-${told}`;
  }
  if (control.unit !== "in") return `${(mm / 10).toFixed(2).replace(/\.?0+$/, "")} cm`;
  const parts = control.steps_per_unit;
  let top = Math.round((mm / 25.4) * parts);
  const whole = Math.floor(top / parts);
  top -= whole * parts;
  let bottom = parts;
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const fraction = top ? `${top}/${bottom}` : "";
  return `${[whole || !fraction ? whole : "", fraction].filter((each) => each !== "").join(" ")} in`;
}

/** A ruler with what may be written washed on it, and a mark at what is. */
function ruler(control) {
  const mm = control.mm;
  const unit = control.unit === "in" ? 25.4 : 10;
  const least = control.least_mm;
  const most = Math.min(control.most_mm, Math.max(8 * unit, 2.2 * (mm ?? 3 * unit)));
  const first = Math.floor(least / unit) * unit;
  const last = Math.ceil(most / unit) * unit;
  const x = (at) => RULER.left + ((at - first) / (last - first)) * (RULER.width - RULER.left - RULER.right);
  const marks = [];
  const count = Math.round((last - first) / unit);
  const each = count > 14 ? Math.ceil(count / 10) : 1;
  for (let at = 0; at <= count; at += 1) {
    const place = x(first + at * unit);
    const long = at % each === 0;
    marks.push(svg("path", { d: `M${place},22v${long ? 10 : 6}`, class: "tick" }));
    if (long) marks.push(svg("text", { x: place, y: 44, "text-anchor": "middle" }, String(Math.round(first / unit) + at)));
  }
  return svg(
    "svg",
    { class: "ruler", viewBox: `0 0 ${RULER.width} ${RULER.height}`, "aria-hidden": "true" },
    svg("rect", { x: x(least), y: 12, width: Math.max(0, x(most) - x(least)), height: 20, class: "wash" }),
    svg("path", { d: `M${RULER.left},32H${RULER.width - RULER.right}`, class: "tick" }),
    marks,
    mm === undefined ? null : svg("path", { d: `M${x(Math.min(mm, last))},6v26`, class: "pointer" }),
    mm === undefined ? null : svg("circle", { cx: x(Math.min(mm, last)), cy: 6, r: 5, class: "pointer-head" }),
  );
}

function choices(control, change) {
  const name = `choice-${control.path}`;
  return el(
    "fieldset",
    { class: control.kind === "shape" ? "choices with-pictures" : "choices" },
    el("legend", { class: "vh" }, control.label),
    control.choices.map((choice, at) =>
      el(
        "label",
        {},
        el("input", {
          type: "radio",
          name,
          value: choice.value,
          checked: choice.value === control.value || (control.value === "" && choice.value === control.usual),
          "data-first": at === 0 && control.kind !== "length_or_choice" && !control.least ? true : null,
          "data-keep": `choice-${choice.value}`,
          onchange: () => change(choice.value),
        }),
        choice.picture ? svg("svg", { viewBox: "0 0 100 100", "aria-hidden": "true" }, svg("path", { d: choice.picture })) : null,
        el("span", {}, choice.label.replaceAll("_", " ")),
      ),
    ),
  );
}

/** Leave it open, or back from that; back to what is usual. */
function ways(part, desk, change) {
  const control = part.control;
  const found = [];
  const worked = desk.state.open[control.path];
  if (openValue(control)) {
    if (worked?.text) {
      found.push(el("p", { class: "worked" }, sized(say("worked_out", { text: worked.text, other: worked.other })), " ", sized(worked.why)));
      found.push(el("button", { type: "button", class: "link", "data-keep": "fix", onclick: () => change(worked.typed || worked.text) }, sized(say("fix_at", { text: worked.text }))));
    } else if (worked) {
      found.push(el("p", { class: "worked" }, say("not_worked_out", { why: worked.why })));
    }
  } else if (control.may_be_open) {
    found.push(el("button", { type: "button", class: "link", "data-keep": "leave-open", onclick: () => change(control.open_word) }, say("leave_open")));
  }
  if (control.may_be_left_out && part.state !== "usual") {
    const text = control.usual ? say("back_to_usual", { usual: control.usual.replaceAll("_", " ") }) : say("leave_out");
    found.push(el("button", { type: "button", class: "link", "data-keep": "usual", onclick: () => change(null) }, sized(text)));
  }
  return found.length ? el("div", { class: "slip-ways" }, found) : null;
}

/** A phrase as a sentence of its own. */
export function sentence(text) {
  const trimmed = String(text).trim();
  if (!trimmed) return "";
  const whole = trimmed[0].toUpperCase() + trimmed.slice(1);
  return /[.!?…]$/.test(whole) ? whole : `${whole}.`;
}
