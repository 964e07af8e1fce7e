// Our own keys for numbers, and a memory for what was typed: after an interruption the same digits stand in the same place.
"use strict";

const KEYS = ["7", "8", "9", "back", "4", "5", "6", ",", "1", "2", "3", "minus", "0", "next"];
const SAYS = { blank: "space", open: "OL", back: "rub out", next: "Next", minus: "minus" };

const NO_MEMORY = "This screen has no room to remember what is typed here: save it before the page is loaded anew.";

const Typed = {
  sent: new Map(),  // entry -> what was typed for it and on which page: undone, it stands in its fields again
  again: "",  // page of what was taken back just now
  place: (keeps) => `knowngood typed ${keeps}`,

  keep(form) {
    const fields = [...new FormData(form).entries()].filter(([, value]) => typeof value === "string" && value);
    if (!Room.keep(this.place(form.dataset.keeps), JSON.stringify(fields))) Room.say(form, NO_MEMORY);
  },

  // Kept by the machine: not remembered any more, unless something else was typed in the same place since.
  letGo(item, entries) {
    const place = this.place(item.keeps), typed = localStorage.getItem(place);
    if (!typed || !JSON.parse(typed).every(([name, value]) => item.fields.some(([one, sent]) => one === name && sent === value))) return;
    localStorage.removeItem(place);
    for (const entry of entries || []) this.sent.set(entry, [place, typed, item.page]);
  },

  // Taken back: its digits stand in their fields again, unless others were typed there since.
  giveBack(entry) {
    const [place, typed, page] = this.sent.get(entry) || [];
    if (place && !localStorage.getItem(place) && Room.keep(place, typed)) this.again = page;
    this.sent.delete(entry);
  },

  // The way back to its fields stands under the word that it was taken back.
  leadBack() {
    const echo = document.querySelector(".echo");
    if (echo && this.again && this.again !== Pages.here()) {
      const link = made("a", "Enter it again");
      Object.assign(link, { className: "answer small", href: this.again });
      echo.after(link);
    }
    this.again = "";
  },

  // Whether something was typed here and not saved.
  restore(form) {
    const fields = JSON.parse(localStorage.getItem(this.place(form.dataset.keeps)) || "[]");
    this.fill(form, fields);
    return fields.length > 0;
  },

  fill(form, fields) {
    for (const [name, value] of fields) {
      for (const field of form.querySelectorAll(`[name="${CSS.escape(name)}"]`)) {
        const tapped = field.type === "radio" || field.type === "checkbox";
        const before = tapped ? field.checked : field.value;
        if (tapped) field.checked ||= field.value === value;  // several of one name may be ticked
        else field.value = value;
        const folded = field.closest("details");
        if (folded && before !== (tapped ? field.checked : value)) folded.open = true;
      }
    }
  },
};

const Keypad = {
  fields(form) {
    return [...form.querySelectorAll(".cells input")].filter((field) => field.checkVisibility());
  },

  // Words that must still be chosen.
  choice(form) {
    return [...form.querySelectorAll("fieldset[data-needed]")].find((one) => !one.querySelector(":checked"));
  },

  // What the long key does in a field: on to the next one (from the last of a row with gaps to its first, as its own
  // button saves it), to the words that must still be chosen, or it sends.
  does(form, field) {
    const fields = this.fields(form), last = field === fields[fields.length - 1];
    if (last && this.choice(form)) return "choose";
    const whole = fields.every((one) => one.value) && !form.querySelector(".choice");
    return fields.length === 1 || (last && (form.dataset.done || whole)) ? "send" : "next";
  },

  says(form, field) {
    return this.does(form, field) === "send" ? form.dataset.done || form.dataset.says || "Save" : "Next";
  },

  build(form, wasLeft) {
    const pad = form.querySelector(".keypad");
    const fields = [...form.querySelectorAll(".cells input")];
    if (!pad || !fields.length) return;
    const some = (kind) => fields.some((field) => kind in field.dataset);
    const more = [...(some("many") ? ["blank"] : []), ...(some("opens") ? ["open"] : [])];
    const keys = KEYS.flatMap((key) => (key === "," && some("blank") ? ["blank"] : key === "next" ? [...more, key] : [key]));
    pad.replaceChildren(...keys.map((key) => {
      const button = document.createElement("button");
      button.type = "button";
      button.dataset.key = key;
      button.textContent = key === "next" ? this.says(form, null) : SAYS[key] || key;
      if (key === "next" && more.length) button.style.gridColumn = `span ${3 - more.length}`;
      return button;
    }));
    pad.hidden = false;
    for (const field of fields) field.inputMode = "none";
    const open = this.fields(form);
    // A page opens at its top, where what was saved last stands; one that was left amid a row opens at its last digits.
    const left = wasLeft && open.filter((field) => field.value).pop();
    if (open.length) this.select(left || open.find((field) => !field.value) || open[0], Boolean(left));
  },

  select(field, moves = true) {
    for (const other of this.fields(field.form)) other.parentElement.classList.toggle("here", other === field);
    const pad = field.form.querySelector(".keypad");
    pad.hidden = false;
    pad.querySelector("[data-key=next]").textContent = this.says(field.form, field);
    field.form.classList.toggle("whole", this.does(field.form, field) === "send");
    pad.querySelector("[data-key=minus]").style.visibility = "signed" in field.dataset ? "" : "hidden";  // its place stays
    if (!document.activeElement?.closest(".bar")) field.focus({ preventScroll: true });  // a line being typed goes on
    if (!moves) return;
    pad.scrollIntoView({ block: "nearest", behavior: "instant" });  // its lowest keys, too; then what they are typed into
    field.scrollIntoView({ block: "nearest", behavior: "instant" });
  },

  press(pad, key) {
    const form = pad.closest("form"), fields = this.fields(form);
    const field = fields.find((one) => one.parentElement.classList.contains("here")) || fields[0];
    const does = key === "next" && this.does(form, field);
    if (does === "send") return form.requestSubmit();
    if (does === "choose") {
      pad.hidden = true;
      return this.choice(form).scrollIntoView({ block: "start", behavior: "instant" });
    }
    if (does === "next") return this.select(fields[(fields.indexOf(field) + 1) % fields.length]);
    if (key === "back") field.value = field.value.slice(0, -1);
    else if (key === "minus") field.value = field.value.startsWith("-") ? field.value.slice(1) : `-${field.value}`;
    else if (key === "open") field.value = "OL";
    else field.value += key === "blank" ? " " : key;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    this.select(field);
  },
};

// How far apart the values stand is worked out by the workshop machine; away from it nothing is said.
let asked = 0;
async function spread(form) {
  const cells = form.querySelector(".cells"), says = form.querySelector(".spread");
  if (!cells || !says) return;
  const turn = ++asked;
  const query = new URLSearchParams([...new FormData(form).entries()].filter(([, value]) => value));
  try {
    const answer = await fetch(`${cells.dataset.spread}?${query}`);
    const words = answer.ok ? (await answer.json()).words : "";
    if (turn === asked) says.textContent = words;
  } catch {
    if (turn === asked) says.textContent = "";
  }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest(".keypad button");
  if (button) Keypad.press(button.parentElement, button.dataset.key);
});
document.addEventListener("focusin", (event) => {
  const pad = event.target.form?.querySelector(".keypad");
  if (!pad) return;
  // Number keys make room while words are chosen.
  if (event.target.matches("form[data-done] .choice input")) pad.hidden = true;
  const here = event.target.parentElement.classList.contains("here");
  if (event.target.matches(".cells input") && (pad.hidden || !here)) Keypad.select(event.target);
});
document.addEventListener("input", (event) => {
  const form = event.target.closest("form[data-keeps]");
  if (!form) return;
  Typed.keep(form);
  spread(form);
});
document.addEventListener("kept", ({ detail: { item, answer } }) => {
  if (item.keeps) Typed.letGo(item, answer.of);
  for (const [name, entry] of item.fields) if (name === "of") Typed.giveBack(entry);
});
function begin() {
  for (const form of document.querySelectorAll("form[data-keeps]")) {
    if (form.dataset.begun) continue;
    form.dataset.begun = "yes";
    Keypad.build(form, Typed.restore(form));
    spread(form);
  }
}
document.addEventListener("DOMContentLoaded", begin);
document.addEventListener("shown", begin);
document.addEventListener("shown", () => Typed.leadBack());
