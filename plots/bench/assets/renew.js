// New figures come into the page by changing what differs. What stays the same costs
// no layout, and what a person has opened, scrolled, marked or focused stays so.

/** Makes the inside of a part of the page what a fragment of HTML says. */
export function renew(part, html) {
  const fresh = document.createElement("template");
  fresh.innerHTML = html;
  renewInside(part, fresh.content);
}

function renewInside(old, fresh) {
  let was = old.firstChild;
  let next = fresh.firstChild;
  while (next) {
    const [node, after] = [next, was?.nextSibling];
    next = node.nextSibling; // before the node moves into the page
    if (was) renewNode(was, node);
    else old.append(node);
    was = after;
  }
  while (was) {
    const after = was.nextSibling;
    was.remove();
    was = after;
  }
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

/** Unhurried is a part of the page that is renewed at once where it is in sight, and else once the moves have come to rest. */
export class Unhurried {
  #inSight = false;
  #timer = 0;
  #html = null;

  constructor(part) {
    this.part = part;
    new IntersectionObserver((entries) => {
      this.#inSight = entries.at(-1).isIntersecting;
      if (this.#inSight && this.#html !== null) this.#renew();
    }).observe(part);
  }

  renew(html) {
    clearTimeout(this.#timer);
    this.#html = html;
    if (this.#inSight) this.#renew();
    else this.#timer = setTimeout(() => this.#renew(), 200);
  }

  #renew() {
    clearTimeout(this.#timer);
    renew(this.part, this.#html);
    this.#html = null;
  }
}
