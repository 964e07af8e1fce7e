// What the line would be understood as stands above it while it is typed; nothing is kept by it.
"use strict";

const Heard = {
  waitMs: 400,  // longer than from one letter to the next, so that it is asked once for a word
  turn: 0,
  timer: 0,

  at(bar) {
    let place = bar.querySelector("#heard");
    if (!place) {
      place = document.createElement("p");
      place.id = "heard";
      place.setAttribute("role", "status");
      bar.prepend(place);
    }
    return place;
  },

  say(bar, words) {
    if (!words) bar.querySelector("#heard")?.remove();
    else this.at(bar).textContent = words;
  },

  async ask(bar, line) {
    const turn = ++this.turn;
    const path = bar.getAttribute("action").replace(/say$/, "heard");
    try {
      const answer = await fetch(`${path}?${new URLSearchParams({ line })}`);
      const words = answer.ok ? (await answer.json()).words : "";
      if (turn === this.turn) this.say(bar, words);
    } catch {
      if (turn === this.turn) this.say(bar, "");  // away from the machine nothing is said
    }
  },
};

document.addEventListener("input", (event) => {
  const bar = event.target.closest("form.bar");
  if (!bar) return;
  clearTimeout(Heard.timer);
  const line = event.target.value;
  Heard.timer = setTimeout(() => (line.trim() ? Heard.ask(bar, line) : Heard.say(bar, "")), Heard.waitMs);
});
document.addEventListener("submit", (event) => {
  if (!event.target.matches("form.bar")) return;
  clearTimeout(Heard.timer);
  Heard.turn++;
  Heard.say(event.target, "");
});
