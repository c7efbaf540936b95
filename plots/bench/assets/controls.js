// The controls: sliders with their fields, core switches, candidate changes
// and the list of what was changed. They tell what a person does and show what
// the answer says; they hold no state but the values that were refused.

import { keyOf } from "./edits.js";

const all = (selector, place = document) => [...place.querySelectorAll(selector)];
const one = (selector, place = document) => place.querySelector(selector);

/** What edit a control makes; the value is filled in. */
function editOf(control, value) {
  const edit = { path: control.dataset.path, value };
  if (control.dataset.case) edit.case = control.dataset.case;
  return edit;
}

/** A number that was typed without a unit is meant in that of the control. */
function withUnit(text, unit) {
  const bare = /^[-+]?(\d+\.?\d*|\.\d+)$/.test(text);
  return bare && unit ? `${text} ${unit}` : text;
}

/** Somebody is in the middle of typing into a field. */
function beingTyped(field) {
  const { shown, sent } = field.dataset;
  return field === document.activeElement && field.value !== shown && field.value !== sent;
}

/** Controls listens to a part of the page; act has edit and back. */
export class Controls {
  #grips = 0; // how often a hand has taken hold
  #held = false; // by a hand, now

  constructor(place, act) {
    this.place = place;
    this.act = act;
    this.refused = new Map(); // key of an edit to {edit, text}
    place.addEventListener("pointerdown", () => {
      this.#grips++;
      this.#held = true;
    });
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => (this.#held = false));
    place.addEventListener("input", (event) => this.#input(event.target));
    place.addEventListener("change", (event) => this.#change(event.target));
    place.addEventListener("click", (event) => this.#click(event.target.closest("button")));
    place.addEventListener("keydown", (event) => this.#key(event));
    one("#changed").addEventListener("click", (event) => this.#takeOut(event.target.closest("button")));
  }

  #input(target) {
    if (target.type !== "range") return;
    const control = target.closest(".control");
    const { unit, unitShown } = control.dataset;
    one(".value", control).value = `${target.value} ${unitShown}`.trim();
    this.#edit(editOf(control, `${target.value} ${unit}`.trim()), true, this.#held ? this.#grips : 0);
  }

  #change(target) {
    const control = target.closest(".control");
    if (target.matches(".value")) this.#typed(target, control);
    if (target.type === "radio" && control) this.#edit(editOf(control, target.value));
    const { change } = target.dataset;
    if (change && target.checked) this.#edit({ change });
    else if (change) this.#takeBack({ change });
  }

  #typed(field, control) {
    const text = field.value.trim();
    field.dataset.sent = field.value;
    if (text === "") this.#back(control);
    else if (text !== field.dataset.shown) this.#edit(editOf(control, withUnit(text, control.dataset.unit)));
  }

  #edit(edit, moving = false, grip = 0) {
    this.refused.delete(keyOf(edit));
    this.act.edit(edit, moving, grip);
  }

  #click(button) {
    if (button?.matches(".back")) this.#back(button.closest(".control"));
    if (button?.id === "other-set") this.#other();
  }

  #takeBack(edit) {
    this.refused.delete(keyOf(edit));
    this.act.back(edit);
  }

  #back(control) {
    this.#takeBack(editOf(control));
    one(".value, input:checked", control).focus();
  }

  #key(event) {
    if (event.key === "Enter" && event.target.id.startsWith("other-") && event.target.matches("input")) {
      event.preventDefault();
      this.#other();
    }
    if (event.key === "Escape" && event.target.matches(".value")) event.target.value = event.target.dataset.shown ?? "";
  }

  /** Any other number: its path and value stand in two fields. */
  #other() {
    const [path, value] = [one("#other-path"), one("#other-value")];
    const missing = [path, value].find((field) => field.value.trim() === "");
    if (missing) {
      missing.focus();
      return;
    }
    const name = path.value.trim();
    const edit = { path: name, value: value.value.trim() };
    if (/^(day|flight)\./.test(name)) edit.case = document.body.dataset.case;
    this.#edit(edit);
    path.focus();
  }

  #takeOut(button) {
    if (!button) return;
    this.#takeBack(JSON.parse(button.dataset.edit));
    (one("#changed button") ?? one("#changed-title")).focus();
  }

  /** Forgets what was refused, as after undo. */
  forget() {
    this.refused.clear();
  }

  /** Sets an edit aside that the scenario does not take, with the reason. */
  refuse(edit, text) {
    this.refused.set(keyOf(edit), { edit, text });
  }

  /** Shows values as they are now, what of them was changed, and faults. */
  show(answer, edits) {
    for (const now of answer.controls ?? []) this.#showValue(now);
    for (const [name, serves] of Object.entries(answer.cores ?? {})) this.#showCore(name, serves);
    this.showEdits(edits);
  }

  #showValue({ path, value, text }) {
    for (const control of all(`.control[data-path="${CSS.escape(path)}"]`, this.place)) {
      if (this.refused.has(keyOf(editOf(control)))) continue;
      const [slider, field] = [one("input[type=range]", control), one(".value", control)];
      if (slider) slider.value = value;
      slider?.setAttribute("aria-valuetext", text);
      if (!beingTyped(field)) field.value = text;
      field.dataset.shown = text;
    }
  }

  #showCore(name, serves) {
    const button = one(`.core[data-core="${CSS.escape(name)}"] input[value="${CSS.escape(serves)}"]`, this.place);
    if (button) button.checked = true;
  }

  /** Shows what was changed and what was refused. */
  showEdits(edits) {
    const made = new Set(edits.map(keyOf));
    for (const box of all("input[data-change]", this.place)) this.#tick(box, made);
    for (const control of all(".control", this.place)) this.#mark(control, made);
    const refused = [...this.refused.values()];
    const other = refused.find(({ edit }) => edit.path === one("#other-path").value.trim() && !this.#has(edit));
    showFault(one("#other-fault"), one("#other-value"), other?.text);
    const items = edits.map((edit) => changedItem(edit));
    for (const { edit, text } of refused) {
      items.push(changedItem(edit, this.#has(edit) || edit === other?.edit ? "not accepted" : text));
    }
    one("#changed").replaceChildren(...items);
    one("#changed-none").hidden = items.length > 0;
  }

  #tick(box, made) {
    const key = keyOf(box.dataset);
    box.checked = made.has(key);
    showFault(document.getElementById(`change-${box.dataset.change}-fault`), box, this.refused.get(key)?.text);
  }

  /** There is a control of its own for what an edit changes. */
  #has(edit) {
    const made = [...all(".control", this.place).map((control) => editOf(control)), ...all("[data-change]", this.place).map((box) => box.dataset)];
    return made.some((own) => keyOf(own) === keyOf(edit));
  }

  /** Shows the controls of a case in place of those of other cases. */
  showCase(name) {
    for (const control of all(".control[data-case]", this.place)) control.hidden = control.dataset.case !== name;
    for (const group of all(".sliders", this.place)) group.hidden = !one(".control:not([hidden])", group);
  }

  #mark(control, made) {
    const key = keyOf(editOf(control));
    const fault = this.refused.get(key);
    const place = one(".fault", control);
    const field = one(".value", control);
    control.classList.toggle("changed", made.has(key) || fault !== undefined);
    if (fault && field) field.value = fault.edit.value;
    showFault(place, field, fault?.text);
  }
}

/** Shows a fault beside its field, or none. */
function showFault(place, field, text) {
  place.hidden = !text;
  place.textContent = text ?? "";
  field?.setAttribute("aria-invalid", String(Boolean(text)));
}

/** A line of the list of what was changed, with a button that takes it out. */
function changedItem(edit, fault) {
  const item = document.createElement("li");
  const name = edit.change ? `change ${edit.change}` : `${edit.path} = ${edit.value}`;
  const words = document.createElement("span");
  words.textContent = edit.case ? `${name} (${edit.case} only)` : name;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Take out";
  button.setAttribute("aria-label", `Take out ${name}`);
  button.dataset.edit = JSON.stringify(edit);
  item.append(words, button);
  if (fault) item.append(faultOf(fault));
  return item;
}

function faultOf(text) {
  const place = document.createElement("p");
  place.className = "fault";
  place.textContent = text;
  return place;
}
