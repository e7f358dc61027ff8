// The design page: what it knows, how a change goes to the workbench and comes back, and who draws what.

import { get, post, Away, Refused } from "./ask.js";
import { say, tell } from "./dom.js";
import { drawNotes } from "./notes.js";
import { drawProof, drawVerdict } from "./proof.js";
import { drawRecipe } from "./recipe.js";
import { drawMore, drawSentence } from "./sentence.js";
import { drawClash, drawOffline } from "./trouble.js";
import { mountFold } from "./fold.js";
import { mountLid } from "./lid.js";
import { mountSheets } from "./sheet.js";

const SLOW_MS = 120; // an answer that takes longer than this is announced

const data = JSON.parse(document.getElementById("desk").textContent);

/** Everything the page knows. `proof`, `mends` and `model` belong to the version in `proved`, or are null. */
export const desk = { id: data.id, state: data.state, proof: null, mends: null, model: null, open: null, waiting: false };

const views = { fold: null, lid: null, sheets: null };

function draw() {
  drawSentence(desk, actions);
  drawMore(desk, actions);
  drawVerdict(desk, actions);
  drawRecipe(desk);
  drawProof(desk, actions);
  drawNotes(desk, actions);
  document.body.dataset.version = desk.state.version;
  document.getElementById("name").value = desk.state.name;
  document.title = `${desk.state.name} · ${say("brand")}`;
}

function drawPictures() {
  views.sheets.show(desk.state.sheets, desk.state.problems);
  views.lid.show(desk.state.lids);
}

/** Takes a new state: everything that is true at once is shown, and what must be worked out is "checking". */
function take(state) {
  const moved = state.version !== desk.state.version;
  desk.state = state;
  if (moved) Object.assign(desk, { proof: null, mends: null });
  draw();
  drawPictures();
  if (moved) check();
  if (state.merged?.length) tell(say("merged", { what: state.merged.join("; ") }));
}

/** Asks for proof, model and mends of the state that is shown; what comes for an older one is dropped. */
async function check() {
  const { version, problems } = desk.state;
  if (problems.length) {
    views.fold.show(null);
    return;
  }
  const newest = () => desk.state.version === version;
  const path = (what) => `/api/p/${desk.id}/${what}?version=${version}`;
  views.fold.checking();
  try {
    const proof = await get(path("proof"));
    if (!newest()) return;
    desk.proof = proof;
    drawVerdict(desk, actions);
    drawProof(desk, actions);
    tell(`${proof.headline} ${proof.line}`);
    const model = await get(path("model"));
    if (!newest()) return;
    desk.model = model;
    views.fold.show(model, proof.steps);
    const mends = await get(path("mends"));
    if (!newest()) return;
    desk.mends = mends.mends;
    drawProof(desk, actions);
    drawVerdict(desk, actions);
  } catch (error) {
    if (newest()) trouble(error, check);
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) tell(error.message);
  else throw error;
}

/** Sends changes; gives the problems with them, or none. */
async function send(path, body, again) {
  desk.waiting = true;
  const announce = setTimeout(() => document.body.classList.add("waiting"), SLOW_MS);
  try {
    take(await post(`/api/p/${desk.id}/${path}`, { version: desk.state.version, ...body }));
    drawOffline(null);
    return [];
  } catch (error) {
    if (error instanceof Refused && error.status === 409) {
      drawClash(error.data.clash, (field, value) => actions.edit([{ path: field, value }]));
      take(error.data.state);
      return [];
    }
    if (error instanceof Refused) return error.problems;
    trouble(error, again);
    return [];
  } finally {
    clearTimeout(announce);
    document.body.classList.remove("waiting");
    desk.waiting = false;
  }
}

export const actions = {
  /** Changes values: [{path, value}]. */
  edit: (changes) => send("edit", { changes }, () => actions.edit(changes)),
  undo: () => send("undo", {}, actions.undo),
  redo: () => send("redo", {}, actions.redo),
  rename: (name) => send("rename", { name }, () => actions.rename(name)),
  /** Opens the control of a phrase, or closes it. */
  open(path) {
    desk.open = path;
    drawSentence(desk, actions);
    drawMore(desk, actions);
  },
  /** Shows what a finding is about in the pictures. */
  show(finding) {
    const about = finding.show ?? { what: "sheet", names: finding.subjects };
    views[about.what === "fold" ? "fold" : about.what === "lid" ? "lid" : "sheets"].point(about);
    document.getElementById(`plate-${about.what}`)?.scrollIntoView({ block: "center", behavior: "smooth" });
    tell(finding.title);
  },
};

views.fold = mountFold(document.getElementById("fold"), { words: say });
views.lid = mountLid(document.getElementById("lid"), { edit: actions.edit, id: desk.id });
views.sheets = mountSheets(document.getElementById("sheet"));

const name = document.getElementById("name");
name.addEventListener("change", () => actions.rename(name.value));
document.addEventListener("keydown", (event) => {
  const field = event.target.closest?.("input, textarea, select");
  if (!(event.ctrlKey || event.metaKey) || field) return;
  if (event.key.toLowerCase() === "z") {
    event.preventDefault();
    (event.shiftKey ? actions.redo : actions.undo)();
  } else if (event.key.toLowerCase() === "y") {
    event.preventDefault();
    actions.redo();
  }
});

/** Another window may have changed it: looked at whenever this one is looked at again. */
document.addEventListener("visibilitychange", async () => {
  if (document.visibilityState !== "visible" || desk.waiting) return;
  try {
    const state = await get(`/api/p/${desk.id}`);
    if (state.version !== desk.state.version) take(state);
  } catch (error) {
    trouble(error, () => location.reload());
  }
});

draw();
drawPictures();
check();
