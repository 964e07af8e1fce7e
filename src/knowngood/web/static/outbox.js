// Forms wait here, in this browser's own storage, until the workshop machine says "saved": in order, each kept once.
"use strict";

const Outbox = {
  place: "knowngood outbox",
  retryMs: 1500,
  busy: false,
  tapped: new Map(),  // form -> what was last sent with it

  all() {
    return JSON.parse(localStorage.getItem(this.place) || "[]");
  },

  write(items) {
    localStorage.setItem(this.place, JSON.stringify(items));
    this.show();
  },

  // A form that was filled in: its fields, the moment, and a name of its own, the same however often it is sent.
  put(form, button) {
    const fields = [...new FormData(form, button).entries()].filter(([, value]) => typeof value === "string");
    const bytes = crypto.getRandomValues(new Uint8Array(12));
    const sent = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    const spoken = fields.filter(([name, value]) => value && !/^(unit|healthy)\||^back$/.test(name)).map(([name, value]) =>
      name === "line" ? value : [...name.split("|").slice(1), value].join(" ").replaceAll("_", " "));
    const item = { sent, action: form.getAttribute("action"), fields, at: Date.now(), says: button?.dataset.says || spoken.join(", "), view: Pages.view };
    if (form.dataset.keeps || form.dataset.forgets) item.keeps = form.dataset.keeps || form.dataset.forgets;
    this.write([...this.all(), item]);
    return this.flush();
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

  // Sends what waits, the oldest first; stops at the first that is not answered.
  async flush() {
    if (this.busy) return;
    this.busy = true;
    let last = null;
    try {
      for (let item = this.all()[0]; item; item = this.all()[0]) {
        const answer = await this.send(item);
        if (answer === null) break;
        this.write(this.all().filter((one) => one.sent !== item.sent));
        last = { item, answer };
        document.dispatchEvent(new CustomEvent("kept", { detail: { item, answer } }));
      }
    } finally {
      this.busy = false;
    }
    if (last) document.dispatchEvent(new CustomEvent("all-kept", { detail: last }));
    this.show();
    if (this.all().length) setTimeout(() => this.flush(), this.retryMs);
  },

  // What the server answered; null when it did not, or could not, and the form goes on waiting.
  async send(item) {
    const body = new URLSearchParams(item.fields);
    body.set("sent", item.sent);
    body.set("waited", String((Date.now() - item.at) / 1000));
    try {
      const answer = await fetch(item.action, { method: "POST", body, headers: { Accept: "application/json" } });
      if (answer.status !== 200 && answer.status !== 400) return null;
      return await answer.json();
    } catch {
      return null;
    }
  },

  show() {
    const at = document.getElementById("waiting");
    if (!at) return;
    const items = this.busy && this.all().length <= 1 ? [] : this.all();
    at.hidden = items.length === 0;
    at.replaceChildren();
    if (!items.length) return;
    const words = document.createElement("p");
    words.textContent = "Not saved yet: the workshop machine does not answer. It is kept on this screen and goes out by itself. "
      + "Go on working; do not load the page anew until then.";
    const list = document.createElement("ol");
    for (const item of items) {
      const line = document.createElement("li");
      line.textContent = item.says || "undo";
      list.append(line);
    }
    at.append(words, list);
  },
};

addEventListener("beforeunload", (event) => {
  if (Outbox.all().length) event.preventDefault();
});

// A photo that is too large would be refused only once it is sent, and what it shows would be typed in vain.
function tooLarge(form) {
  const field = form.querySelector("input[type=file][data-most]");
  form.querySelector(".problem")?.remove();
  const most = field && Number(field.dataset.most);
  if (!field || !field.files.length || field.files[0].size <= most) return false;
  const says = document.createElement("p");
  says.className = "problem";
  says.setAttribute("role", "alert");
  const mb = (bytes) => Math.round(bytes / 1e6);
  says.textContent = `The photo has ${mb(field.files[0].size)} MB; ${mb(most)} MB are the most. Take it smaller.`;
  field.closest("label").after(says);
  return true;
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (tooLarge(form)) return event.preventDefault();
  if (!form.matches("form[data-kept]")) return;
  event.preventDefault();
  if (!Outbox.isAgain(form, event.submitter)) Outbox.put(form, event.submitter);
});
document.addEventListener("kept", ({ detail: { answer } }) => {
  if (answer.problem) Outbox.tapAnew();
});
document.addEventListener("shown", () => {
  for (const form of Outbox.tapped.keys()) if (!form.isConnected) Outbox.tapped.delete(form);
});

addEventListener("online", () => Outbox.flush());
document.addEventListener("DOMContentLoaded", () => { Outbox.show(); Outbox.flush(); });
