// The pack: made at a press, with what it is at; then every page of it as it will be printed, and every file to save.

import { get, post, Away, Refused } from "./ask.js";
import { el, fill, say, tell, words } from "./dom.js";
import { drawOffline } from "./trouble.js";

const LOOK_MS = 250;
const SHOWN = 4; // pages of a file that lie open; the others are a press away

const data = JSON.parse(document.getElementById("make").textContent);
const making = document.getElementById("making");
const pages = document.getElementById("pages");
const wanted = { ...data.teach };

function draw(work) {
  const notProved = data.verdict && data.verdict !== "proved";
  const busy = work?.state === "working";
  fill(
    making,
    notProved ? el("p", { class: "wrong" }, say("make_not_proved")) : null,
    data.pack && data.pack.version !== data.version ? el("p", { class: "quiet" }, say("make_old")) : null,
    busy ? progress(work) : [options(), el("button", { type: "button", class: "do", onclick: make }, say(data.pack ? "make_again" : "make_do"))],
    work?.state === "stopped" ? el("p", { role: "status" }, say("make_stopped")) : null,
    work?.state === "failed" ? el("p", { class: "wrong", role: "alert" }, say("make_failed", { why: work.why ?? "" })) : null,
  );
}

const progress = (work) => [
  el("p", { class: "making" }, say("making", { stage: stage(work.stage) })),
  el("progress", { max: Math.max(1, work.total), value: work.done, "aria-label": say("make_do") }),
  el("button", { type: "button", class: "step", onclick: () => post(`/api/jobs/${work.job}/stop`) }, say("make_stop")),
];

/** For which hand it is drawn, and for whom it is told: as the design has it, unless chosen otherwise. */
function options() {
  const one = (key, value) =>
    el("label", {}, el("input", { type: "radio", name: key, value, checked: wanted[key] === value, onchange: () => (wanted[key] = value) }), say(`${key}_${value}`));
  return el(
    "div",
    { class: "make-options" },
    el("fieldset", { class: "choices" }, el("legend", {}, say("make_hand")), one("hand", "right"), one("hand", "left")),
    el("fieldset", { class: "choices" }, el("legend", {}, say("make_version")), one("version", "full"), one("version", "class")),
  );
}

const stage = (code) => words[`stage_${code}`] ?? "…";

async function make() {
  try {
    const { job } = await post(`/api/p/${data.id}/pack`, wanted);
    for (;;) {
      const work = { ...(await get(`/api/jobs/${job}`)), job };
      if (work.state === "done") data.pack = work.pack;
      draw(work);
      if (work.state !== "working") break;
      await new Promise((done) => setTimeout(done, LOOK_MS));
    }
    if (data.pack) {
      drawPages();
      tell(say("made", { count: data.pack.files.length }));
    }
  } catch (error) {
    if (error instanceof Away) drawOffline(make);
    else if (error instanceof Refused) draw({ state: "failed", why: error.problems.map((each) => `${each.reason}: ${each.remedy}.`).join(" ") });
    else throw error;
  }
}

const KINDS = [
  ["kind_read", /^(booklet|booklet-print|table-card)\.(pdf|html)$/],
  ["kind_print", /\.pdf$/],
  ["kind_cut", /^cut\/|\.dxf$/],
  ["kind_post", /^(pictures\/|post\.md|steps\.md|folded\.glb)/],
  ["kind_lists", /./],
];

/** The booklet itself comes first: it is what everything else is made for. */
const first = (file) => (file.path === "booklet.pdf" ? 0 : 1);

function drawPages() {
  const left = new Set(data.pack.files.map((file) => file.path));
  const address = (path) => `/api/p/${data.id}/pack/${data.pack.job}/${path.split("/").map(encodeURIComponent).join("/")}`;
  fill(
    pages,
    el("p", {}, el("a", { class: "link", href: address("all.zip") }, say("download_all"))),
    el("section", { class: "slip print-rule" }, el("h2", {}, say("print_title")), el("ol", {}, ["print_1", "print_2", "print_3"].map((key) => el("li", {}, say(key))))),
    KINDS.map(([key, which]) => {
      const those = data.pack.files.filter((file) => left.has(file.path) && which.test(file.path)).sort((one, other) => first(one) - first(other));
      for (const file of those) left.delete(file.path);
      return those.length ? el("section", { class: "section" }, el("h2", { class: "large" }, say(key)), those.map((file) => one(file, address(file.path)))) : null;
    }),
  );
}

function one(file, address) {
  const links = el(
    "p",
    { class: "file-line" },
    el("b", {}, file.path),
    file.shown ? el("a", { class: "link", href: address, target: "_blank", rel: "noopener", "aria-label": say("open_file", { file: file.path }) }, say("open_file", { file: "" }).trim()) : null,
    el("a", { class: "link", href: `${address}?save`, "aria-label": say("save_file", { file: file.path }) }, say("save_file", { file: "" }).trim()),
  );
  if (!file.pages.length) return links;
  const page = ([wide, tall], at) => el("img", { src: `${address}?page=${at}`, alt: say("page_of", { file: file.path, page: at + 1, pages: file.pages.length }), loading: "lazy", width: Math.round(wide), height: Math.round(tall) });
  const pages = file.pages.map(page);
  const shown = pages.length <= SHOWN + 1 ? pages.length : SHOWN;
  const rest = pages.slice(shown);
  return [
    links,
    el("div", { class: "pages" }, pages.slice(0, shown)),
    rest.length ? el("details", {}, el("summary", { "aria-label": `${say("more_pages", { count: rest.length })}: ${file.path}` }, say("more_pages", { count: rest.length })), el("div", { class: "pages" }, rest)) : null,
  ];
}

draw(null);
if (data.pack) drawPages();
