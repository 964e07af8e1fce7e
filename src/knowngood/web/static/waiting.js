// What waits and what was not taken stands in sight on every page, in words, until it is saved or a hand has decided.
"use strict";

const Waiting = {
  last: null,  // what was put away last, to be brought back

  show() {
    const at = document.getElementById("waiting");
    if (!at) return;
    const waiting = Outbox.waiting(), refused = Outbox.all().filter((item) => item.refused);
    const late = !Outbox.busy || waiting.length > 1 || Outbox.failing;  // what is sent just now is not late yet
    at.replaceChildren(...(Outbox.unpaired ? this.toPair(waiting) : waiting.length && late ? this.goesOut(waiting) : []),
      ...this.folded(refused.map((item) => this.notTaken(item))), ...(this.last ? [this.wasPutAway(this.last)] : []));
    at.hidden = !at.children.length;
  },

  toPair(items) {
    const pair = made("a", "Pair this screen");
    Object.assign(pair, { className: "answer", href: "/pair" });
    const stays = items.length ? " Not saved yet; it is kept on this screen and goes out once it is paired:" : "";
    return [made("p", `This screen is not paired any more.${stays}`), ...(items.length ? [this.list(items)] : []),
      ...(location.pathname === "/pair" ? [] : [pair])];
  },

  goesOut(items) {
    const why = Outbox.failing || "the workshop machine does not answer.";
    const then = Outbox.failing ? "It is tried again." : "Go on working; do not load the page anew until then.";
    return [made("p", `Not saved yet: ${why} It is kept on this screen and goes out by itself. ${then}`), this.list(items)];
  },

  list(items) {
    const list = made("ol");
    list.append(...items.map((item) => made("li", this.named(item))));
    return list;
  },

  // The oldest in sight, the others behind it: what next stays near.
  folded([first, ...more]) {
    if (!more.length) return first ? [first] : [];
    const fold = made("details");
    fold.open = Boolean(document.querySelector("#waiting details")?.open);
    fold.append(made("summary", `Not taken, too: ${more.length} more`), ...more);
    return [first, fold];
  },

  notTaken(item) {
    const box = made("section");
    box.className = "refused";
    box.setAttribute("aria-label", "Not taken");
    const name = made("p");
    name.append(made("strong", "Not taken: "), made("bdi", this.named(item)));
    const why = made("p", item.refused);
    why.className = "problem";
    const key = (words, act) => this.button(words, () => act.call(this, item));
    const keys = made("div");
    keys.className = "keys";
    keys.append(...(item.page ? [key("Open it again", this.open)] : []), key("Send it again", this.send), key("Put it away", this.putAway));
    box.append(name, why, keys);
    return box;
  },

  wasPutAway(item) {
    const box = made("section");
    box.setAttribute("aria-label", "Put away");
    box.append(made("p", `Put away: ${this.named(item)}`), this.button("Bring it back", () => {
      this.last = null;
      Outbox.write([...Outbox.all(), item]);
    }));
    return box;
  },

  // With the car it was said of, where that is not the car on the screen.
  named(item) {
    const car = document.querySelector("header .nickname");
    const here = car && item.action.startsWith(`${car.getAttribute("href")}/`);
    return [...(item.car && !here ? [item.car] : []), item.says].join(": ");
  },

  button(words, act) {
    const button = made("button", words);
    Object.assign(button, { className: "small", type: "button" });
    button.addEventListener("click", act);
    return button;
  },

  send(item) {
    this.last = null;
    Outbox.change(item, { refused: "", tries: 0 });
    Outbox.flush();
  },

  putAway(item) {
    this.last = item;
    Outbox.change(item, null);
  },

  // Where it was filled in, with what was filled in; it stays in the list until it is sent from there.
  async open(item) {
    this.last = null;
    await Pages.show(item.page);
    const says = this.fill(item);
    if (says) Pages.note(says);
  },

  fill(item) {
    const typed = item.fields.filter(([, value]) => value);
    const form = [...document.querySelectorAll("form[data-kept]")].find((one) => one.getAttribute("action") === item.action
      && (one.dataset.keeps || one.dataset.forgets || undefined) === item.keeps && typed.every(([name]) => one.elements.namedItem(name)));
    if (!form) return `Its form is not on this page any more. What was entered: ${item.says}`;
    const other = [...form.querySelectorAll("input[type=text], input:not([type])")].find((field) => field.value
      && field.value !== field.defaultValue && !typed.some(([name, value]) => name === field.name && value === field.value));
    if (other) return `Something else stands in its form: ${other.value}. Save that or take it out, then open this again.`;
    Typed.fill(form, typed);
    form.dataset.again = item.sent;
    form.scrollIntoView({ block: "center", behavior: "instant" });
    return "";
  },
};

function made(tag, words = "") {
  const element = document.createElement(tag);
  element.textContent = words;
  return element;
}

// A line that was not taken stands in its own field again, if that is on the screen and free; all else stays in the list.
document.addEventListener("refused", ({ detail: { item, problem } }) => {
  const bar = document.querySelector(".bar"), field = bar?.querySelector("input");
  if (bar && bar.getAttribute("action") === item.action && item.keeps === bar.dataset.keeps && !field.value) {
    field.value = item.fields.find(([name]) => name === "line")[1];
    Typed.keep(bar);
    bar.querySelector("#problem")?.remove();
    const words = made("p", problem);
    Object.assign(words, { id: "problem", className: "problem" });
    words.setAttribute("role", "alert");
    bar.prepend(words);
    field.setAttribute("aria-describedby", "problem");
    Outbox.change(item, null);
  } else if (item.view === Pages.view) {
    document.getElementById("waiting").scrollIntoView({ block: "nearest", behavior: "instant" });
  }
});
document.addEventListener("submit", ({ target }) => {
  if (target.matches("form.bar")) target.querySelector("#problem")?.remove();
});
document.addEventListener("outbox", () => Waiting.show());
document.addEventListener("shown", () => Waiting.show());
document.addEventListener("DOMContentLoaded", () => Waiting.show());
