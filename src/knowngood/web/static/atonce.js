// Forms that cannot wait on this screen: a photo is too large, a new car has no page yet, what is looked for or worked out
// wants its answer. While the machine is away the page stays, with all that was entered, and says so.
"use strict";

const AWAY = "Not saved: the workshop machine does not answer. It stands here as it was entered; save it again when it answers.";

// Rounded up to tenths: what is over the most never reads as the most itself.
function megabytes(bytes) {
  return Math.ceil(bytes / 1e5) / 10;
}

// Why a photo would be refused once it is sent; empty for one that may go, and for a form without any.
function tooLarge(form) {
  const field = form.querySelector("input[type=file][data-most]");
  const most = Number(field?.dataset.most), file = field?.files[0];
  if (!file || file.size <= most) return "";
  return `The photo has ${megabytes(file.size)} MB; ${megabytes(most)} MB are the most. Take it smaller.`;
}

// The words that keep a form here; empty when it was taken and the page that follows is shown.
async function sendAtOnce(form, button) {
  const fields = new FormData(form, button);
  fields.set("sent", form.dataset.sent ||= Outbox.newName());  // the same until something else is entered
  const body = form.enctype === "multipart/form-data" ? fields : new URLSearchParams(fields);
  const answer = await fetch(form.getAttribute("action"), { method: "POST", body, headers: { Accept: "application/json" } }).catch(() => null);
  if (!answer) return AWAY;
  const told = answer.headers.get("content-type")?.includes("json") ? await answer.json().catch(() => null) : {};
  if (told === null) return AWAY;
  if (told.problem) return told.problem;
  const { pathname, search } = new URL(answer.url);
  if (told.to || answer.redirected) await Pages.show(told.to || pathname + search);
  else Pages.showText(await answer.text());
  return "";
}

// What is worked out stands in the address of its result from then on; until it is shown its digits are remembered.
async function askAtOnce(form, button) {
  const shown = await Pages.show(`${form.getAttribute("action")}?${new URLSearchParams(new FormData(form, button))}`);
  if (shown && form.dataset.keeps) localStorage.removeItem(Typed.place(form.dataset.keeps));
}

document.addEventListener("input", ({ target }) => {
  if (target.form) delete target.form.dataset.sent;
});
document.addEventListener("submit", async (event) => {
  const form = event.target, button = event.submitter;
  if (form.matches("[data-kept], [action='/pair']")) return;  // those wait; the code loads all anew
  event.preventDefault();
  if (form.dataset.sending) return;
  form.dataset.sending = "yes";
  Room.hush(form);
  const words = form.method === "get" ? await askAtOnce(form, button) : tooLarge(form) || await sendAtOnce(form, button);
  delete form.dataset.sending;
  if (words) Room.say(form, words, button || undefined);
});
