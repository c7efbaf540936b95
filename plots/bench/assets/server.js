// Talking to the server that this page came from.

/** Longest wait for the answer to a move [ms]. */
const longestWait = 30000;

/** Sent when nobody answers at all. */
const gone = "The program behind this page does not answer. Is it still running? The next move tries again.";

function post(address, body, signal) {
  const headers = { "Content-Type": "application/json" };
  return fetch(address, { method: "POST", headers, body: JSON.stringify(body), signal });
}

/**
 * Flier flies the newest state. One request is under way at a time: while it
 * is, only the newest state is kept, and flown next. An older one is not
 * broken off by a newer one, or a slider that moves without rest would never
 * show an answer.
 */
export class Flier {
  /** Show is called with (answer, request, newest); fail with a sentence. */
  constructor({ show, fail, busy }) {
    this.show = show;
    this.fail = fail;
    this.busy = busy;
    this.waiting = null;
    this.flying = false;
  }

  fly(request) {
    this.waiting = request;
    if (!this.flying) this.#loop();
  }

  async #loop() {
    this.flying = true;
    this.busy(true);
    while (this.waiting) {
      const request = this.waiting;
      this.waiting = null;
      await this.#once(request);
    }
    this.flying = false;
    this.busy(false);
  }

  async #once(request) {
    let answer;
    try {
      answer = await answerOf(await post("/fly", request, AbortSignal.timeout(longestWait)));
    } catch (error) {
      this.fail(sentenceOf(error));
      return;
    }
    this.show(answer, request, this.waiting === null);
  }
}

/** The answer to a move: figures, or faults of its edits. */
async function answerOf(response) {
  if (response.ok || response.status === 422) return response.json();
  throw new Refusal(await refusalOf(response));
}

/** Refusal is the server's own sentence. */
class Refusal extends Error {}

async function refusalOf(response) {
  const text = await response.text();
  try {
    const { error, faults } = JSON.parse(text);
    return error ?? faults.map((fault) => fault.text).join(" ");
  } catch {
    return text || `The program answered ${response.status}.`;
  }
}

function sentenceOf(error) {
  if (error instanceof Refusal) return error.message;
  if (error.name === "TimeoutError") return "The program has not answered for half a minute. The next move tries again.";
  return gone;
}

/**
 * Runs a study and calls progress(done, total) on the way. The result is
 * {html}, {file, text}, {error} or {cancelled}.
 */
export async function study(name, request, signal, progress) {
  try {
    const response = await post(`/study/${name}`, request, signal);
    if (!response.ok) return { error: await refusalOf(response) };
    return await lastLine(response, progress);
  } catch (error) {
    return signal.aborted ? { cancelled: true } : { error: sentenceOf(error) };
  }
}

async function lastLine(response, progress) {
  let last = null;
  for await (const line of linesOf(response.body)) {
    const message = JSON.parse(line);
    if (message.total !== undefined) progress(message.done, message.total);
    else last = message;
  }
  return last ?? { error: "The study ended without a result." };
}

/** The lines of a stream, as they arrive. */
async function* linesOf(stream) {
  const reader = stream.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    const lines = (rest + (value ?? "")).split("\n");
    rest = done ? "" : lines.pop();
    yield* lines.filter((line) => line.trim() !== "");
    if (done) return;
  }
}

/** The file of the scenario with the edits in it: {file, text} or {error}. */
export async function scenarioFile(request) {
  try {
    const response = await post("/scenario", request);
    if (!response.ok) return { error: await refusalOf(response) };
    return { file: nameIn(response), text: await response.text() };
  } catch (error) {
    return { error: sentenceOf(error) };
  }
}

function nameIn(response) {
  const head = response.headers.get("Content-Disposition") ?? "";
  return /filename="?([^";]+)/.exec(head)?.[1] ?? "scenario.yaml";
}

/** Hands a text to the browser as a file to keep. */
export function download({ file, text }, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = file;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}
