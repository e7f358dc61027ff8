// The design page: what it knows, how a change goes to the workbench and comes back, and who draws what.

import { get, post, Away, Refused } from "./ask.js";
import { say, still, tell } from "./dom.js";
import { drawBuild } from "./build.js";
import { drawFit } from "./fit.js";
import { drawNotes } from "./notes.js";
import { drawProof, drawVerdict } from "./proof.js";
import { drawRecipe, pointRecipe } from "./recipe.js";
import { drawMore, drawSentence } from "./sentence.js";
import { drawClash, drawOffline, drawRefused } from "./trouble.js";
import { mountFold } from "./fold.js";
import { mountLid } from "./lid.js";
import { mountSheets } from "./sheet.js";

const SLOW_MS = 120; // an answer that takes longer than this is announced
const ASK_AGAIN_MS = 400;

const data = JSON.parse(document.getElementById("desk").textContent);

/** Everything the page knows. `proof` and `mends` belong to the state that is shown, or are null. */
export const desk = { id: data.id, state: data.state, proof: data.proof ?? null, mends: null, open: null, waiting: false };

const views = { fold: null, lid: null, sheets: null };

function draw() {
  drawSentence(desk, actions);
  drawBuild(desk, actions);
  drawMore(desk, actions);
  drawVerdict(desk, actions);
  drawRecipe(desk);
  drawProof(desk, actions);
  drawFit(desk, actions);
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
async function check(known = {}) {
  const { version, problems } = desk.state;
  if (problems.length) {
    views.fold.show(null);
    return;
  }
  const newest = () => desk.state.version === version;
  const path = (what) => `/api/p/${desk.id}/${what}?version=${version}`;
  if (!known.proof) views.fold.checking();
  try {
    const proof = known.proof ?? (await get(path("proof")));
    if (!newest()) return;
    desk.proof = proof;
    drawVerdict(desk, actions);
    drawProof(desk, actions);
    if (!known.proof) tell(`${proof.headline} ${proof.line}`);
    const model = known.model ?? (await get(path("model")));
    if (!newest()) return;
    views.fold.show(model, proof.steps);
    const mends = await get(path("mends"));
    if (!newest()) return;
    desk.mends = mends.mends;
    drawProof(desk, actions);
    drawVerdict(desk, actions);
    drawSentence(desk, actions);
  } catch (error) {
    if (!newest()) return;
    if (error instanceof Refused && error.passing) setTimeout(() => newest() && check(), ASK_AGAIN_MS);
    else trouble(error, check);
  }
}

function trouble(error, again) {
  if (error instanceof Away) drawOffline(again);
  else if (error instanceof Refused) drawRefused(error);
  else throw error;
}

/** Sends changes; gives the problems with them, or none. */
async function send(path, body, again) {
  desk.waiting = true;
  const announce = setTimeout(() => document.body.classList.add("waiting"), SLOW_MS);
  try {
    take(await post(`/api/p/${desk.id}/${path}`, { version: desk.state.version, ...body }));
    drawOffline(null);
    drawRefused(null);
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

/** Sends what has no field of its own on the page: what is wrong with it is told at the top. */
async function order(path, body) {
  const problems = await send(path, body, () => order(path, body));
  if (problems.length) drawRefused({ problems });
  return problems;
}

export const actions = {
  /** Changes values: [{path, value}]; a value of null is as usual again. */
  edit: (changes) => send("edit", { changes }, () => actions.edit(changes)),
  /** The same, from a place that cannot show what is wrong. */
  mend: (changes) => order("edit", { changes }),
  build: (way) => order("build", way),
  undo: () => order("undo", {}),
  redo: () => order("redo", {}),
  rename: (name) => order("rename", { name }),
  /** Opens the control of a phrase, or closes it. */
  open(path) {
    desk.open = path;
    drawSentence(desk, actions);
    drawMore(desk, actions);
  },
  /** Shows what a finding is about in the pictures. */
  show(finding) {
    const about = finding.show;
    for (const each of document.querySelectorAll(".plate.pointed")) each.classList.remove("pointed");
    for (const view of Object.values(views)) view.point({ names: [], part: about.part });
    pointRecipe(about);
    views[about.what === "sheet" ? "sheets" : about.what].point(about);
    const plate = document.getElementById(`plate-${about.what}`);
    plate.classList.add("pointed");
    const seen = about.what === "sheet" && !plate.querySelector(".marked") ? (document.querySelector(".recipe .marked") ?? plate) : plate;
    seen.scrollIntoView({ block: "center", behavior: still() ? "auto" : "smooth" });
    tell(finding.title);
  },
};

views.fold = mountFold(document.getElementById("fold"));
views.lid = mountLid(document.getElementById("lid"), { edit: actions.mend });
views.sheets = mountSheets(document.getElementById("sheet"));

const name = document.getElementById("name");
name.addEventListener("change", () => actions.rename(name.value));
document.addEventListener("keydown", (event) => {
  const field = event.target.closest?.("input:not([type=radio], [type=range], [type=checkbox]), textarea, select");
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
check({ proof: data.proof, model: data.model });
