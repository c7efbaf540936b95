// Studies that take longer than a move: one at a time, with progress, the time
// that is left, and a way to break off.

import { download, study } from "./server.js";

const one = (selector) => document.querySelector(selector);

/** The time that is left [s] as words, or nothing while it is not known. */
function timeLeft(done, total, passed) {
  if (done < 1 || passed < 1) return "";
  const left = Math.round((passed * (total - done)) / done);
  if (left < 1) return "nearly done";
  return left < 90 ? `about ${left} s left` : `about ${Math.round(left / 60)} min left`;
}

/** Studies runs what the buttons of the page name; request gives the state. */
export class Studies {
  constructor(request) {
    this.request = request;
    this.running = null;
    for (const button of document.querySelectorAll("[data-study]")) {
      button.addEventListener("click", () => this.#start(button));
    }
    one("#study-cancel").addEventListener("click", () => this.running?.abort());
  }

  async #start(button) {
    if (this.running) return;
    const { study: name, label } = button.dataset;
    const request = this.request();
    this.running = new AbortController();
    this.#open(label);
    const begun = performance.now();
    const progress = (done, total) => this.#progress(done, total, (performance.now() - begun) / 1000);
    const result = await study(name, request, this.running.signal, progress);
    this.running = null;
    this.#close(button, label, result, request.edits.length);
  }

  #open(label) {
    one("#study-name").textContent = label;
    one("#study-progress").removeAttribute("value");
    one("#study-count").textContent = "starting";
    one("#study-run").hidden = false;
    one("#study-said").textContent = `${label} is running.`;
    this.#lock(true);
    one("#study-cancel").focus();
  }

  #lock(locked) {
    for (const button of document.querySelectorAll("[data-study]")) button.setAttribute("aria-disabled", String(locked));
  }

  #progress(done, total, passed) {
    const bar = one("#study-progress");
    bar.max = Math.max(total, 1);
    bar.value = done;
    one("#study-count").textContent = [`${done} of ${total}`, timeLeft(done, total, passed)].filter(Boolean).join(", ");
  }

  /** Ends a study; who has turned to something else meanwhile is not called away. */
  #close(button, label, result, changes) {
    const watched = one("#study-run").contains(document.activeElement);
    one("#study-run").hidden = true;
    this.#lock(false);
    one("#study-said").textContent = said(label, result);
    if (result.file) download(result, "text/html");
    if (result.html !== undefined) this.#showResult(label, result.html, changes);
    if (watched) (result.html === undefined ? button : one("#study-result-title")).focus();
  }

  #showResult(label, html, changes) {
    one("#study-result-title").textContent = label;
    one("#study-made").textContent = madeWith(changes);
    one("#study-result-body").innerHTML = html;
    one("#study-result").hidden = false;
  }
}

function said(label, result) {
  if (result.cancelled) return `${label} was cancelled.`;
  if (result.error) return `${label} failed: ${result.error}`;
  if (result.html !== undefined) return `${label} is done; its result stands below.`;
  return `${result.file} is with your downloads.`;
}

function madeWith(changes) {
  if (changes === 0) return "Made of the scenario as filed.";
  return changes === 1 ? "Made with the 1 change of that moment." : `Made with the ${changes} changes of that moment.`;
}
