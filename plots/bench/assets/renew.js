// New figures come into the page by changing what differs. What stays the same costs
// no layout, and what a person has opened, scrolled, marked or focused stays so.

/** Makes the inside of a part of the page what a fragment of HTML says. */
export function renew(part, html) {
  const fresh = document.createElement("template");
  fresh.innerHTML = html;
  renewInside(part, fresh.content);
}

function renewInside(old, fresh) {
  const [were, are] = [[...old.childNodes], [...fresh.childNodes]];
  are.forEach((node, i) => (were[i] ? renewNode(were[i], node) : old.append(node)));
  for (const node of were.slice(are.length)) node.remove();
}

function renewNode(old, fresh) {
  if (old.nodeName !== fresh.nodeName) {
    old.replaceWith(fresh);
  } else if (old.nodeType === Node.TEXT_NODE) {
    if (old.data !== fresh.data) old.data = fresh.data;
  } else {
    renewAttributes(old, fresh);
    renewInside(old, fresh);
  }
}

function renewAttributes(old, fresh) {
  for (const { name, value } of fresh.attributes) {
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  if (old.attributes.length === fresh.attributes.length) return;
  for (const name of old.getAttributeNames()) {
    if (name !== "open" && !fresh.hasAttribute(name)) old.removeAttribute(name); // open: by a person
  }
}

/** Unhurried is a part that is renewed at once in sight, and else when the moves rest. */
export class Unhurried {
  #inSight = false;
  #timer = 0;
  #html = null; // that waits

  constructor(part) {
    this.part = part;
    new IntersectionObserver((entries) => {
      this.#inSight = entries.at(-1).isIntersecting;
      if (this.#inSight) this.#renew();
    }).observe(part);
  }

  renew(html) {
    this.#html = html;
    clearTimeout(this.#timer);
    if (this.#inSight) this.#renew();
    else this.#timer = setTimeout(() => this.#renew(), 200);
  }

  #renew() {
    if (this.#html !== null) renew(this.part, this.#html);
    this.#html = null;
  }
}
