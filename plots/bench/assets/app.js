// The page: what a person does becomes a new state, every state is flown, and
// the answer is shown. The server keeps nothing.

import { Chart } from "./chart.js";
import { Controls } from "./controls.js";
import { History, fromHash, toHash, withEdit, withoutEdit, keyOf } from "./edits.js";
import { Unhurried, renew } from "./renew.js";
import { Flier, download, scenarioFile } from "./server.js";
import { Studies } from "./studies.js";

const one = (selector) => document.querySelector(selector);

const filed = { edits: [], pinned: null };

const states = new History(filed);
let good = filed; // the state of the figures that are shown
const chart = new Chart(one("#chart"));
const cowl = new Unhurried(one("#cowl"));
const controls = new Controls(one("#controls"), { edit, back });
const flier = new Flier({ show, fail, busy });
if (one("#study-run")) new Studies(request);

/** What is sent: the case that is shown, what was changed, what is pinned. */
function request() {
  return { case: document.body.dataset.case, ...states.state };
}

function edit(made, moving, grip) {
  const state = { ...states.state, edits: withEdit(states.state.edits, made) };
  move(state, moving ? keyOf(made) : null, grip);
}

function back(made) {
  move({ ...states.state, edits: withoutEdit(states.state.edits, made) });
}

/** Takes a new state and flies it; a key says that a slider moves, a grip that a hand holds it. */
function move(state, key = null, grip = 0) {
  noted = false;
  states.put(state, key, grip);
  fly(key !== null);
}

let addressTimer = 0;

/**
 * Flies the state and keeps it in the address, at once or soon: browsers take some
 * hundred addresses in half a minute, and a slider that moves makes more.
 */
function fly(soon = false) {
  clearTimeout(addressTimer);
  if (soon) addressTimer = setTimeout(writeAddress, 400);
  else writeAddress();
  showSteps();
  document.body.dataset.answered = "false";
  flier.fly(request());
}

function writeAddress() {
  const address = new URL(location.href);
  address.hash = toHash(states.state);
  history.replaceState(null, "", address);
  for (const link of document.querySelectorAll("[data-case-name]")) link.hash = address.hash;
}

/** Says which steps there are. */
function showSteps() {
  enable("#undo", states.past.length > 0 || controls.refused.size > 0);
  enable("#redo", states.future.length > 0);
  enable("#as-filed", states.state.edits.length > 0 || controls.refused.size > 0);
  enable("#unpin", states.state.pinned !== null);
}

/** Buttons that do nothing now stay where the keyboard finds them. */
function enable(selector, on) {
  one(selector).setAttribute("aria-disabled", String(!on));
}

/** Shows an answer; newest says that no later state is waiting. */
function show(answer, flown, newest) {
  if (answer.faults?.length) {
    setAside(answer.faults, flown, newest);
    return;
  }
  if (newest && !noted) one("#gone").hidden = true;
  good = { edits: flown.edits, pinned: flown.pinned };
  place(answer);
  if (newest) controls.show(answer, states.state.edits);
  warn();
  showSteps();
  say(answer.say);
}

/** Puts the figures of an answer into the page. */
function place(answer) {
  one("#cowl").closest("section").hidden = !answer.cowl;
  one("#command").textContent = answer.command;
  one("#pinned-key").hidden = !answer.chart?.pinned;
  one("#pinned-note").hidden = !good.pinned;
  one("#pinned-note").textContent = `In brackets stands the change from the pinned state: ${wordsOf(good.pinned)}.`;
  if (answer.chart) chart.show(answer.chart);
  renew(one("#summary"), answer.summary);
  renew(one("#result"), answer.result);
  cowl.renew(answer.cowl ?? "");
}

/** What was changed in a state, in words. */
function wordsOf(edits) {
  if (!edits?.length) return "as filed";
  return edits.map((edit) => edit.change ?? `${edit.path} = ${edit.value}`).join(", ");
}

/**
 * Sets edits aside that the scenario does not take, and flies what was there
 * before: the value that was typed stays in its field with the fault beside it.
 */
function setAside(faults, flown, newest) {
  if (!newest) return;
  const bad = [];
  for (const { edit: number, text } of faults) {
    const made = flown.edits[number];
    if (!made) continue;
    bad.push(made);
    controls.refuse(made, text);
  }
  const unpinned = bad.length < faults.length; // what is pinned is no longer good
  if (unpinned) note(`Unpinned: ${faults.map((fault) => fault.text).join(" ")}`);
  states.takeBack(bad, good, unpinned);
  controls.showEdits(states.state.edits);
  say(`Not accepted: ${faults[0].text}`);
  if (bad.length > 0 || flown.pinned) fly(true);
}

/** Says above the figures that they leave a value out. */
function warn() {
  const count = controls.refused.size;
  one("#left-out").hidden = count === 0;
  one("#left-out").textContent =
    count === 1
      ? "These figures leave out 1 value that is not accepted; the fault stands beside it."
      : `These figures leave out ${count} values that are not accepted; the faults stand beside them.`;
}

/** Says that there is no new answer, and why; the last figures stay. */
function fail(sentence) {
  controls.showEdits(states.state.edits);
  one("#gone").textContent = `${sentence} The figures are those of the last answer.`;
  one("#gone").hidden = false;
}

let noted = false; // what #gone says stays until the next move

/** Says what a person should know until the next move. */
function note(sentence) {
  noted = true;
  one("#gone").textContent = sentence;
  one("#gone").hidden = false;
}

let flyingTimer = 0;

/** Says that a flight is under way if it takes long enough to wonder. */
function busy(flying) {
  clearTimeout(flyingTimer);
  document.body.dataset.answered = String(!flying);
  if (flying) flyingTimer = setTimeout(() => (one("#flying").hidden = false), 150);
  else one("#flying").hidden = true;
}

let sayTimer = 0;

/** Reads a sentence aloud once the moves have come to rest. */
function say(sentence) {
  clearTimeout(sayTimer);
  sayTimer = setTimeout(() => (one("#say").textContent = sentence ?? ""), 700);
}

/** Goes back by one step; what was refused is a step of its own. */
function undo() {
  if (controls.refused.size === 0) states.undo();
  controls.forget();
  fly();
}

function redo() {
  states.redo();
  controls.forget();
  fly();
}

async function keepScenario() {
  const result = await scenarioFile(request());
  if (result.error) fail(result.error);
  else download(result, "application/yaml");
}

async function copyCommand() {
  const text = one("#command").textContent;
  try {
    await navigator.clipboard.writeText(text);
    one("#copied").textContent = "Copied.";
  } catch {
    getSelection().selectAllChildren(one("#command"));
    one("#copied").textContent = "Marked; copy it with Ctrl+C.";
  }
}

/** Shows another case; its own sliders take the place of those of the last. */
function showCase(name) {
  document.body.dataset.case = name;
  for (const link of document.querySelectorAll("[data-case-name]")) {
    if (link.dataset.caseName === name) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
  controls.showCase(name);
  const address = new URL(location.href);
  address.searchParams.set("case", name);
  history.replaceState(null, "", address);
}

document.querySelector(".cases")?.addEventListener("click", (event) => {
  const link = event.target.closest("[data-case-name]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  showCase(link.dataset.caseName);
  fly();
});

const buttons = {
  "#undo": undo,
  "#redo": redo,
  "#as-filed": () => {
    controls.forget();
    move({ ...states.state, edits: [] });
  },
  "#pin": () => move({ ...states.state, pinned: states.state.edits }),
  "#unpin": () => move({ ...states.state, pinned: null }),
  "#keep-scenario": keepScenario,
  "#copy": copyCommand,
};

for (const [selector, act] of Object.entries(buttons)) {
  one(selector).addEventListener("click", ({ currentTarget }) => {
    if (currentTarget.getAttribute("aria-disabled") !== "true") act();
  });
}

/** Links within the page leave the address alone: it holds the state. */
document.addEventListener("click", (event) => {
  const link = event.target.closest('a[href^="#"]');
  if (!link) return;
  event.preventDefault();
  const part = one(link.getAttribute("href"));
  part.focus({ preventScroll: true });
  part.scrollIntoView();
});

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || typing(event.target)) return;
  const key = event.key.toLowerCase();
  if (key !== "z" && key !== "y") return;
  event.preventDefault();
  one(key === "y" || event.shiftKey ? "#redo" : "#undo").click();
});

/** Text fields keep the shortcuts of the browser. */
function typing(target) {
  return target.matches("input[type=text], input:not([type]), textarea");
}

/** Flies the state in the address, or says that it cannot be read. */
function fromAddress() {
  const state = fromHash(location.hash);
  controls.forget();
  move(state ?? filed);
  if (!state) note("What stands behind the # in the address cannot be read: this is the scenario as filed.");
}

window.addEventListener("hashchange", fromAddress);
new ResizeObserver(([{ target }]) => {
  document.documentElement.style.setProperty("--bar", `${target.offsetHeight}px`);
}).observe(one(".bar"));

controls.showCase(document.body.dataset.case);
fromAddress();
states.past = []; // nothing was done yet
showSteps();
