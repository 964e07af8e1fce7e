// A photo is too large to wait on this screen: it stays chosen, with the words beside it, until the machine has it.
"use strict";

// Rounded up to tenths: what is over the most never reads as the most itself.
function megabytes(bytes) {
  return Math.ceil(bytes / 1e5) / 10;
}

// Why a photo would be refused once it is sent; empty for one that may go.
function tooLarge(field) {
  const most = Number(field.dataset.most), file = field.files[0];
  if (!file || file.size <= most) return "";
  return `The photo has ${megabytes(file.size)} MB; ${megabytes(most)} MB are the most. Take it smaller.`;
}

// The words that keep it here; empty when it is saved and the page that follows is shown.
async function sendPhoto(form) {
  const body = new FormData(form);
  body.set("sent", form.dataset.sent ||= Outbox.newName());  // the same until another photo or other words are chosen
  const answer = await fetch(form.getAttribute("action"), { method: "POST", body, headers: { Accept: "application/json" } })
    .catch(() => null);
  const told = await answer?.json().catch(() => null);
  if (!told) return "Not saved: the workshop machine does not answer. The photo is still chosen here; save it again when it answers.";
  if (told.problem) return told.problem;
  await Pages.show(told.to);
  return "";
}

document.addEventListener("input", ({ target }) => {
  if (target.form?.querySelector("input[type=file][data-most]")) delete target.form.dataset.sent;
});
document.addEventListener("submit", async (event) => {
  const form = event.target, field = form.querySelector("input[type=file][data-most]");
  if (!field) return;
  event.preventDefault();
  if (form.dataset.sending) return;
  form.dataset.sending = "yes";
  Room.hush(form);
  const words = tooLarge(field) || await sendPhoto(form);
  delete form.dataset.sending;
  if (words) Room.say(form, words);
});
