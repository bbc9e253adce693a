// What the floor's buttons do: tap at once, or ask first for words, figures, a photo or a second thought.
"use strict";

// A photo waits on the tablet like any tap, so it is drawn smaller before it is kept.
const LONGEST = 1400;
async function drawn(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas.toDataURL("image/jpeg", 0.75);
}

async function addPhoto(button, form) {
  const told = { words: form.elements.words.value };
  try { told.photo = await drawn(form.elements.photo.files[0]); } catch { say(form.dataset.strange, "bad"); return; }
  try { add(button, told); } catch { say(form.dataset.full, "bad"); }
}

const ASKS = ["problem", "reading", "photo"];
let asked = null;

function ask(button, name) {
  asked = button;
  document.getElementById(`${name}-form`).reset();
  document.getElementById(`${name}-dialog`).showModal();
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-tap-action]");
  if (!button) return;
  const action = button.dataset.tapAction;
  if (ASKS.includes(action)) { ask(button, action); return; }
  if (!button.dataset.asksFirst) { add(button, {}); return; }
  document.getElementById("first-words").textContent = button.dataset.asksFirst;
  ask(button, "first");
});

document.addEventListener("DOMContentLoaded", () => {
  for (const name of ["first", ...ASKS]) {
    const form = document.getElementById(`${name}-form`);
    form.addEventListener("submit", () => {
      if (name === "photo") addPhoto(asked, form);
      else add(asked, Object.fromEntries(new FormData(form)));
    });
  }
});
