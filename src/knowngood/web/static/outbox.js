// Forms wait here, in this browser's own storage, until the workshop machine says "saved": in order, each kept once.
"use strict";

const NO_ROOM = "Not saved: this screen has no room to keep it until the machine has it. It stands here as it was entered. "
  + "Let what waits go out, put away what was not taken, then save it again.";

const Outbox = {
  place: "knowngood outbox",
  retryMs: 1500,  // back in reach of the machine, what waits is saved before two seconds are over
  mostTries: 3,  // of a form at which the machine itself fails: it may be its disk, it may be the form
  retry: 0,
  busy: false,
  unpaired: false,
  failing: "",  // what the machine said when it failed
  before: "",  // the form that was kept last: the next one was filled in after it
  tapped: new Map(),  // form -> what was last sent with it

  all() {
    return JSON.parse(localStorage.getItem(this.place) || "[]");
  },

  // What is still to go out; what was not taken stays in the list until a hand decides.
  waiting() {
    return this.all().filter((item) => !item.refused);
  },

  // Whether there was room for it.
  write(items) {
    const kept = Room.keep(this.place, JSON.stringify(items));
    document.dispatchEvent(new Event("outbox"));
    return kept;
  },

  // Another state of one form, in its place; without one it is let go.
  change(item, now) {
    return this.write(this.all().flatMap((one) => (one.sent !== item.sent ? [one] : now ? [{ ...one, ...now }] : [])));
  },

  // For one form, the same however often it is sent: 24 hexadecimal digits, of 16 to 32 that the machine takes.
  newName() {
    return [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  },

  // A form that was filled in: its fields, the moment, and a name of its own. Without
  // room for it here it is not sent, as it could not wait for its answer, and the form stays as it is.
  put(form, button) {
    const fields = [...new FormData(form, button).entries()].filter(([, value]) => typeof value === "string");
    const item = { sent: this.newName(), action: form.getAttribute("action"), fields, at: Date.now(), says: inWords(form, button, fields),
      tries: 0, room: " ".repeat(600),  // left free for the words of a refusal, so that one fits on a full screen, too
      view: Pages.view, page: Pages.here(), car: document.querySelector("header .nickname")?.textContent };
    if (form.dataset.keeps || form.dataset.forgets) item.keeps = form.dataset.keeps || form.dataset.forgets;
    // What was not taken before, and is entered once more or was opened again from the list: this stands for it.
    const others = this.all().filter((one) => one.sent !== form.dataset.again && !(one.refused && isSame(one, item)));
    Room.hush(form);
    if (!this.write([...others, item])) {
      this.tapAnew();
      Room.say(form, NO_ROOM, button || undefined);
      return;
    }
    delete form.dataset.again;
    if ("clears" in form.dataset) {  // it waits here: it is not typed twice
      for (const [name] of fields) form.elements.namedItem(name).value = "";
      localStorage.removeItem(Typed.place(form.dataset.keeps));
    }
    this.flush();
  },

  // A tap looks tapped at once; the same tap on the same form again, while its answer is not there, is the same tap.
  isAgain(form, button) {
    if ("clears" in form.dataset) return false;  // emptied by itself: what stands in it then is new
    const said = JSON.stringify([...new FormData(form, button).entries()].map(([name, value]) => [name, value.name || value]));
    if (this.tapped.get(form) === said) return true;
    this.tapped.set(form, said);
    for (const other of form.querySelectorAll("button.tapped")) other.classList.remove("tapped");
    button?.classList.add("tapped");
    return false;
  },

  // What was kept out may be tapped once more.
  tapAnew() {
    this.tapped.clear();
    for (const button of document.querySelectorAll("button.tapped")) button.classList.remove("tapped");
  },

  // Sends what waits, the oldest first; stops at the first that may still be taken later.
  async flush() {
    if (this.busy) return;
    this.busy = true;
    let last = null;
    try {
      for (let item = this.waiting()[0]; item; item = this.waiting()[0]) {
        const answer = await this.send(item);
        if (answer === null) break;
        if (answer.problem) {
          if (!this.refuse(item, answer.problem)) break;
        } else {
          last = { item, answer };
          this.before = item.sent;
          this.change(item, null);
          document.dispatchEvent(new CustomEvent("kept", { detail: last }));
        }
      }
    } finally {
      this.busy = false;
    }
    if (last) document.dispatchEvent(new CustomEvent("all-kept", { detail: last }));
    document.dispatchEvent(new Event("outbox"));
    clearTimeout(this.retry);
    if (this.waiting().length) this.retry = setTimeout(() => this.flush(), this.retryMs);
  },

  // Whether the machine still knows this screen: a session ends after a working day.
  paired(is) {
    if (this.unpaired === !is) return;
    this.unpaired = !is;
    document.dispatchEvent(new Event("outbox"));
  },

  refuse(item, problem) {
    if (!this.change(item, { refused: problem.slice(0, 600), room: "" })) return false;
    this.tapAnew();
    document.dispatchEvent(new CustomEvent("refused", { detail: { item, problem } }));
    return true;
  },

  // What the machine answered: kept, or the problem that will not go away by itself; null when the form goes on waiting.
  async send(item) {
    const body = new URLSearchParams(item.fields);
    body.set("sent", item.sent);
    body.set("waited", String((Date.now() - item.at) / 1000));
    body.set("before", this.before);
    const answer = await fetch(item.action, { method: "POST", body, headers: { Accept: "application/json" } }).catch(() => null);
    const told = await answer?.json().catch(() => null);
    this.failing = "";
    if (answer) this.paired(!told?.pair);
    if (!answer || told?.pair) return null;
    if (answer.ok) return told && "to" in told ? told : null;  // anything else is not the workshop machine's
    const problem = told?.problem || `The workshop machine answers ${answer.status}.`;
    if (answer.status < 500) return { problem };
    this.failing = problem;
    const tries = (item.tries || 0) + 1;
    if (tries >= this.mostTries) return { problem };
    this.change(item, { tries });
    return null;
  },
};

function isSame(one, other) {
  return one.action === other.action && JSON.stringify(one.fields) === JSON.stringify(other.fields);
}

// What a form says, for who reads the list: the words of the button that was tapped, the fields that were filled in.
function inWords(form, button, fields) {
  if (button?.dataset.says) return button.dataset.says;
  const hidden = (name) => form.querySelector(`input[type=hidden][name="${CSS.escape(name)}"]`);
  const spoken = fields.filter(([name, value]) => value.trim() && name !== button?.name && !name.startsWith("unit|") && !hidden(name))
    .map(([name, value]) => (name === "line" ? value : [...name.split("|").slice(1).filter((one) => one !== "engine"), value].join(" ").replaceAll("_", " ")));
  if (button?.name === "line") return button.value;
  if (!button?.name && spoken.length) return spoken.join(", ");
  const about = form.getAttribute("aria-label")
    || form.closest("li, section, .echo")?.querySelector("strong, bdi, .big, h2")?.textContent || document.querySelector("main h1")?.textContent || "";
  const tapped = (button?.textContent || "Save").trim().replace(/\s+/g, " ");
  return [about.trim().replace(/\.$/, ""), tapped, ...spoken].filter(Boolean).join(": ");
}

addEventListener("beforeunload", (event) => {
  if (Outbox.waiting().length && !Outbox.unpaired) event.preventDefault();
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-kept]")) return;
  event.preventDefault();
  if (!Outbox.isAgain(form, event.submitter)) Outbox.put(form, event.submitter);
});
document.addEventListener("shown", () => {
  for (const form of Outbox.tapped.keys()) if (!form.isConnected) Outbox.tapped.delete(form);
});

addEventListener("online", () => Outbox.flush());
document.addEventListener("DOMContentLoaded", () => Outbox.flush());
