// Taps on the floor: kept on the tablet until the server has them, sent in their order, each recorded once there.
"use strict";

const SHELF = "tyrewright:taps";
let sending = false;

const waiting = () => JSON.parse(localStorage.getItem(SHELF) || "[]");
const keep = (taps) => { localStorage.setItem(SHELF, JSON.stringify(taps)); tellWaiting(taps.length); };

function tellWaiting(count) {
  const box = document.getElementById("waiting");
  box.hidden = count === 0;
  box.textContent = count === 1 ? box.dataset.one : `${box.dataset.many} ${count}`;
}

function add(button, told) {
  const floor = document.getElementById("floor");
  const tap = { key: crypto.randomUUID ? crypto.randomUUID() : `${Date.now()}-${Math.random()}`, to: floor.dataset.tap, action: button.dataset.tapAction, job: button.dataset.job, stage: button.dataset.stage, at: String(Date.now()), ...told };
  keep([...waiting(), tap]);
  button.disabled = true;
  button.closest(".tyre-card").classList.add("tap-waits");
  send();
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    while (waiting().length) {
      const tap = waiting()[0];
      const headers = JSON.parse(document.body.getAttribute("hx-headers"));
      const answer = await fetch(tap.to, { method: "POST", headers: { ...headers, "Idempotency-Key": tap.key }, body: new URLSearchParams(tap), redirect: "manual" });
      if (answer.status >= 500 || answer.type === "opaqueredirect") break;
      const words = (await answer.json()).words;
      if (words) say(words, answer.ok ? "good" : "bad");
      keep(waiting().filter((each) => each.key !== tap.key));
    }
    if (!waiting().length) document.body.dispatchEvent(new Event("taps-sent"));
  } catch {
    tellWaiting(waiting().length); // no network: the next try comes by itself
  } finally {
    sending = false;
  }
}

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
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-tap-action]");
  if (!button) return;
  const action = button.dataset.tapAction;
  if (!ASKS.includes(action)) { add(button, {}); return; }
  asked = button;
  document.getElementById(`${action}-form`).reset();
  document.getElementById(`${action}-dialog`).showModal();
});
document.addEventListener("DOMContentLoaded", () => {
  tellWaiting(waiting().length);
  for (const action of ASKS) {
    const form = document.getElementById(`${action}-form`);
    form.addEventListener("submit", () => {
      if (action === "photo") addPhoto(asked, form);
      else add(asked, Object.fromEntries(new FormData(form)));
    });
  }
  send();
});
window.addEventListener("online", send);
setInterval(send, 5000);
// While taps wait, the list from the server would show the old state again; a choice being made is not disturbed either.
document.addEventListener("htmx:beforeRequest", (event) => { if (event.target.id === "floor-body" && (waiting().length || event.target.querySelector("select:focus"))) event.preventDefault(); });
