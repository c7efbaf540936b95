// What was changed from the file: a list of edits in the order made, with undo
// and redo, kept in the address of the page so that it outlives a reload and
// can be bookmarked.
//
// An edit is {path, value}, with a case if it counts for that case only, or
// {change} for a candidate change of the scenario.

/** A short text that is the same for edits of the same thing. */
export function keyOf(edit) {
  return edit.change ? `change ${edit.change}` : `${edit.case ?? ""} ${edit.path}`;
}

/** The edits with one of them made anew, as the last. */
export function withEdit(edits, edit) {
  return [...withoutEdit(edits, edit), edit];
}

/** The edits without those of the same thing. */
export function withoutEdit(edits, edit) {
  return edits.filter((other) => keyOf(other) !== keyOf(edit));
}

function alike(a, b) {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** Moves that follow each other within this time [ms] are undone as one. */
const oneMove = 800;

/** History holds the state of the page and what it was before. */
export class History {
  constructor(state) {
    this.state = state;
    this.past = [];
    this.future = [];
    this.lastKey = null;
    this.lastGrip = 0;
    this.lastTime = 0;
  }

  /**
   * Puts a new state in place. A key joins moves of the same control: those of one
   * grip, however long the hand rests, and others that follow soon.
   */
  put(state, key = null, grip = 0) {
    const now = performance.now();
    const held = grip > 0 && grip === this.lastGrip;
    const joins = key !== null && key === this.lastKey && (held || now - this.lastTime < oneMove);
    if (!joins) this.past.push(this.state);
    this.future = [];
    this.state = state;
    this.lastKey = key;
    this.lastGrip = grip;
    this.lastTime = now;
  }

  /** Goes back by one step, if there is one. */
  undo() {
    this.#go(this.past, this.future);
  }

  /** Goes forward by one step, if there is one. */
  redo() {
    this.#go(this.future, this.past);
  }

  /**
   * Takes edits back that turned out bad. If they were all that was new since a
   * good state, that state is back in place, and no step is left of them.
   */
  takeBack(bad, good, unpinned) {
    const without = (edits) => bad.reduce(withoutEdit, edits);
    const kept = without(this.state.edits);
    const edits = alike(without(good.edits), kept) ? good.edits : kept;
    this.state = { edits, pinned: unpinned ? null : this.state.pinned };
    this.lastKey = null;
    if (alike(this.past.at(-1), this.state)) this.past.pop();
  }

  #go(from, to) {
    if (from.length === 0) return;
    to.push(this.state);
    this.state = from.pop();
    this.lastKey = null;
  }
}

/** The state as the part of an address behind the #; "" for the file's own. */
export function toHash(state) {
  const list = state.edits.map((edit) => pairOf(edit, ""));
  if (state.pinned) {
    list.push(["pinned", state.pinned.length ? "changed" : "filed"]);
    list.push(...state.pinned.map((edit) => pairOf(edit, "pinned_")));
  }
  return new URLSearchParams(list).toString();
}

function pairOf(edit, prefix) {
  if (edit.change) return [`${prefix}change`, edit.change];
  const scope = edit.case ? `${edit.case}/` : "";
  return [`${prefix}set`, `${scope}${edit.path}=${edit.value}`];
}

/**
 * The state that an address holds, or null when it cannot be read. Whether there is
 * what it names is for the server to judge.
 */
export function fromHash(hash) {
  const state = { edits: [], pinned: null };
  for (const [word, text] of new URLSearchParams(hash.replace(/^#/, ""))) {
    if (word === "pinned") {
      state.pinned ??= [];
      continue;
    }
    const kind = word.replace(/^pinned_/, "");
    const edit = editOf(kind, text);
    if (!edit) return null;
    if (kind === word) state.edits.push(edit);
    else (state.pinned ??= []).push(edit);
  }
  return state;
}

function editOf(kind, text) {
  if (kind === "change") return { change: text };
  const found = /^(?:([^/=]+)\/)?([^/=]+)=(.+)$/.exec(text);
  if (kind !== "set" || !found) return null;
  const [, own, path, value] = found;
  return own ? { path, value, case: own } : { path, value };
}
