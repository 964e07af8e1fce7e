// Pages are shown in place, so that one already open stays when the workshop machine is away; they follow what others enter.
"use strict";

const Pages = {
  most: 40,  // of 10 to 25 kB each: a fifth of the 5 MB that browsers give is left to them
  askMs: 1000,  // half of the two seconds within which screens agree, so that one answer may be lost
  back: "knowngood back",  // where a hand wanted to be when it was led to pairing
  view: Math.random(),  // another number for each page a hand went to
  turn: 0,
  showing: 0,
  held: false,  // a finger is down, or has just gone up and its tap is still to come

  kept() {
    return JSON.parse(localStorage.getItem(Room.pages) || "{}");
  },

  keep(path, text) {
    if (text.includes("<main data-unkept")) return;  // a code to pair by, names of people
    const pages = this.kept();
    delete pages[path];
    pages[path] = { text, at: Date.now() };
    const paths = Object.keys(pages);
    for (const old of paths.slice(0, Math.max(0, paths.length - this.most))) delete pages[old];
    try {
      localStorage.setItem(Room.pages, JSON.stringify(pages));
    } catch {
      localStorage.removeItem(Room.pages);  // full: entries that wait come first
    }
  },

  // The address of a page without what was said on it: under that name it is kept, and found again.
  bare(path) {
    return path.split(/[?&]echo=/)[0];
  },

  here() {
    return this.bare(location.pathname + location.search);
  },

  async fetched(path) {
    const answer = await fetch(path, { headers: { Accept: "text/html" } });
    const text = await answer.text();
    if (answer.redirected) return { text, led: new URL(answer.url).pathname };  // to pairing: this is not that page
    if (answer.ok) this.keep(this.bare(path), text);
    return { text, led: path };
  },

  // Show an address; from what was kept, with a word about it, when the server does not answer. Whether there was a page.
  async show(path, how) {
    this.showing++;
    try {
      return await this.change(path, how);
    } finally {
      this.showing--;
    }
  },

  async change(path, { push = true, top = true, entered = [] } = {}) {
    let text, led = path, note = "";
    const turn = ++this.turn;
    if (push) this.view = Math.random();
    try {
      ({ text, led } = await this.fetched(path));
    } catch {
      const page = this.kept()[this.bare(path)];
      note = page ? `The workshop machine does not answer. This is the page as it was at ${clock(page.at)}.`
        : "The workshop machine does not answer, and this page was not opened before. Tap it again when it answers.";
      text = page && page.text;
    }
    if (turn !== this.turn) return false;  // a later wish has come
    if (!push && !top && this.held) return false;  // nothing moves under a finger; it is asked again in a second
    const page = new DOMParser().parseFromString(text || "", "text/html");
    if (!entered.every((one) => this.formLike(page, one))) return false;  // what was entered has no place there any more
    if (text) this.put(text);
    for (const one of entered) Typed.fill(this.formLike(document, one), one.fields);
    if (led === "/pair" && this.here() !== led) sessionStorage.setItem(this.back, path === led ? this.here() : this.bare(path));
    if (push && text) history.pushState(null, "", led);
    if (note) this.note(note);
    if (top) scrollTo({ top: 0, behavior: "instant" });
    this.shown();
    return Boolean(text);
  },

  // An answer that is a page of its own.
  showText(text) {
    this.put(text);
    scrollTo({ top: 0, behavior: "instant" });
    this.shown();
  },

  put(text) {
    const page = new DOMParser().parseFromString(text, "text/html");
    document.title = page.title;
    document.documentElement.dataset.dark = page.documentElement.dataset.dark;
    document.querySelector("header").replaceWith(page.querySelector("header"));
    document.querySelector("main").replaceWith(page.querySelector("main"));
    const bar = document.querySelector(".bar"), next = page.querySelector(".bar");
    if (bar && next && bar.getAttribute("action") === next.getAttribute("action")) return;  // with what is typed in it
    bar?.remove();
    if (next) document.body.append(next);
  },

  note(words) {
    const at = document.createElement("p");
    at.className = "newer";
    at.setAttribute("role", "status");
    at.textContent = words;
    document.querySelector("main").prepend(at);
  },

  // What is wanted away from the machine is fetched while it answers: the road test of the car that is open.
  async ahead() {
    const car = location.pathname.match(/^\/car\/[^/]+/);
    const fresh = document.querySelector("main").dataset.fresh;
    if (!car || !fresh || this.aheadOf === car[0] + document.querySelector("main").dataset.mark) return;
    this.aheadOf = car[0] + document.querySelector("main").dataset.mark;
    try {
      await this.fetched(`${car[0]}/road`);
    } catch {
      this.aheadOf = "";
    }
  },

  shown() {
    this.ahead();
    document.dispatchEvent(new Event("shown"));
  },

  // Whether letters are being typed: the keys of the phone would go away with their field.
  typing() {
    return [...document.querySelectorAll("main input:not([type=radio]):not([type=checkbox]):not([type=hidden])")].some(
      (field) => !field.closest(".cells") && field.value !== field.defaultValue);
  },

  // What was tapped and not saved yet, form by form; it stands there again on the page that follows.
  entered() {
    const forms = [...document.querySelectorAll("main form")];
    return forms.filter((form) => [...form.elements].some((field) => field.value !== field.defaultValue && field.closest(".cells")
      || field.checked !== field.defaultChecked)).map((form) => ({ action: form.getAttribute("action"),
      label: form.getAttribute("aria-label"), fields: [...new FormData(form).entries()] }));
  },

  formLike(page, { action, label, fields }) {
    return [...page.querySelectorAll("main form")].find((form) => form.getAttribute("action") === action
      && form.getAttribute("aria-label") === label && fields.every(([name]) => form.elements.namedItem(name)));
  },

  // Another screen, or the terminal, has entered something, or an answer has been worked out: show it, on pages that carry
  // the mark of what they were made from. Forms to fill in (a row, the car) carry none: they stay as they are.
  async follow() {
    const main = document.querySelector("main");
    const mark = main.dataset.mark;
    if (mark === undefined || document.hidden || Outbox.busy || Outbox.waiting().length || this.showing || this.held) return;
    try {
      const car = location.pathname === "/" ? "" : location.pathname.split("/").slice(0, 3).join("/");
      const answer = await fetch(`${car}/mark`);
      Outbox.paired(answer.status !== 403);
      if (!answer.ok) return;
      const { mark: now, progress } = await answer.json();
      const says = document.getElementById("progress");
      if (says) says.textContent = progress;
      if (now !== mark && document.querySelector("main") === main && !this.typing() && !this.showing && !Outbox.busy) {
        const echo = main.querySelector(".echo");
        const open = [...main.querySelectorAll("details[open] summary")].map((one) => one.textContent);
        const entered = this.entered();
        if (!await this.show(location.pathname + location.search, { push: false, top: false, entered })) return;
        const fresh = document.querySelector("main");
        if (echo && !fresh.querySelector(".echo")) fresh.prepend(echo);
        for (const one of fresh.querySelectorAll("summary")) if (open.includes(one.textContent)) one.parentElement.open = true;
      }
    } catch {
      // away: asked again in a second
    }
  },
};

const AFTER_TAP_MS = 400;  // browsers send the click up to 300 ms after the finger went up (common practice)
let letGo = 0;
addEventListener("pointerdown", () => {
  clearTimeout(letGo);
  Pages.held = true;
}, true);
for (const up of ["pointerup", "pointercancel"]) {
  addEventListener(up, () => {
    clearTimeout(letGo);
    letGo = setTimeout(() => { Pages.held = false; }, AFTER_TAP_MS);
  }, true);
}

function clock(at) {
  return new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
}

// Dark on light by day; by night, in a dark bay, the other way round. Kept for this screen; else as the workshop likes it.
const Night = {
  place: "knowngood night",
  on() {
    return (localStorage.getItem(this.place) || document.documentElement.dataset.dark) === "yes";
  },
  show() {
    const on = this.on();
    document.documentElement.classList.toggle("night", on);
    for (const button of document.querySelectorAll("[data-night]")) {
      button.hidden = false;
      button.textContent = on ? "Day: dark on light" : "Night: light on dark";
    }
  },
};
Night.show();
document.addEventListener("DOMContentLoaded", () => Night.show());
document.addEventListener("shown", () => Night.show());
document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-night]")) return;
  localStorage.setItem(Night.place, Night.on() ? "no" : "yes");
  Night.show();
});

// A link that was tapped is seen to be, and says so where its page is long in coming: it need not be tapped again.
const Tapped = {
  patienceMs: 500,

  async show(link) {
    link.classList.add("tapped");
    const timer = setTimeout(() => { link.dataset.waits = "yes"; }, this.patienceMs);
    await Pages.show(link.getAttribute("href"));
    clearTimeout(timer);
    link.classList.remove("tapped");
    delete link.dataset.waits;
  },
};

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href^='/']");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || link.hasAttribute("download")) return;
  event.preventDefault();
  Tapped.show(link);
});
// A place further down the same page. The address stays: a change in it would be taken for a page to go back to.
document.addEventListener("click", (event) => {
  const link = event.target.closest("a[href^='#']");
  if (!link) return;
  event.preventDefault();
  const place = document.querySelector(link.getAttribute("href"));
  place.tabIndex = -1;
  place.focus({ preventScroll: true });
  place.scrollIntoView({ block: "start", behavior: "instant" });
});
addEventListener("popstate", () => Pages.show(location.pathname + location.search, { push: false }));

// The answer to a form: its own page.
document.addEventListener("all-kept", async ({ detail: { item, answer } }) => {
  if (!answer.to) return;
  if (item.view === Pages.view) {
    await Pages.show(answer.to);
  } else {  // the hand has gone elsewhere since: it is not called back
    await Pages.show(location.pathname + location.search, { push: false, top: false });
    Pages.note(answer.echo);
  }
  const root = document.documentElement;
  root.dataset.kept = String(Number(root.dataset.kept || 0) + 1);
});

document.addEventListener("DOMContentLoaded", () => {
  Pages.keep(Pages.here(), document.documentElement.outerHTML);
  Pages.ahead();
  const back = location.pathname === "/" && sessionStorage.getItem(Pages.back);
  if (back) {
    sessionStorage.removeItem(Pages.back);
    Pages.show(back);
  }
  setInterval(() => Pages.follow(), Pages.askMs);
});
