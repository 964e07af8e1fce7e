// Room in this browser's storage, which may be full: pages kept for later make room for what is typed; else it is said.
"use strict";

const Room = {
  pages: "knowngood pages",

  // Whether it is kept now.
  keep(place, text) {
    try {
      localStorage.setItem(place, text);
    } catch {
      localStorage.removeItem(this.pages);
      try {
        localStorage.setItem(place, text);
      } catch {
        return false;
      }
    }
    return true;
  },

  // Words under the button of a form, in place of those that stood there.
  say(form, words, button = form.querySelector("button:not([type=button])")) {
    this.hush(form);
    const at = document.createElement("p");
    at.className = "problem at-button";
    at.setAttribute("role", "alert");
    at.textContent = words;
    button.after(at);
    at.scrollIntoView({ block: "nearest", behavior: "instant" });
  },

  hush(form) {
    form.querySelector(".at-button")?.remove();
  },
};
