// The timeline in the hand: choose a bar, open it, carry it by pointer or by keyboard. The server judges each move.
"use strict";

const board = {
  get root() { return document.getElementById("board"); },
  get lanes() { return [...this.root.querySelectorAll(".lane")]; },
  get bars() { return [...this.root.querySelectorAll(".bar:not(.watch)")]; },
  get minuteWidth() { return parseFloat(this.root.dataset.minuteWidth); },
  get grid() { return parseInt(this.root.dataset.grid, 10); },
  carry: null,
};

function choose(bar, focus) {
  board.root.querySelectorAll(".bar.chosen").forEach((other) => other.classList.remove("chosen"));
  bar.classList.add("chosen");
  board.bars.forEach((other) => other.setAttribute("tabindex", other === bar ? "0" : "-1"));
  if (focus) bar.focus();
}

function open(bar) {
  choose(bar, false);
  const query = new URLSearchParams({ stage: bar.dataset.stage, lane: bar.dataset.lane, lanes: document.getElementById("plan").dataset.lanes, zoom: document.getElementById("plan").dataset.zoom });
  const address = `${document.getElementById("plan").dataset.job.replace("JOB", encodeURIComponent(bar.dataset.job))}?${query}`;
  htmx.ajax("GET", address, { target: "#panel", swap: "innerHTML" }).then(inSight);
}

// Where the panel stands below the board, and not beside it, both are brought into sight.
function inSight() {
  const columns = getComputedStyle(document.querySelector(".plan-grid")).gridTemplateColumns.split(" ").length;
  if (columns === 1) document.querySelector(".plan-tools").scrollIntoView({ block: "start" });
}

function laneAt(y) {
  return board.lanes.find((lane) => { const box = lane.getBoundingClientRect(); return y >= box.top && y < box.bottom; });
}

function pickUp(bar) {
  if (document.getElementById("plan").dataset.move === undefined) return;
  board.carry = { bar, x: parseFloat(bar.getAttribute("x")), minutes: 0, lane: bar.dataset.lane };
  bar.classList.add("held");
}

function show() {
  const { bar, x, minutes, lane } = board.carry;
  const from = board.lanes.findIndex((each) => each.dataset.lane === bar.dataset.lane);
  const to = board.lanes.findIndex((each) => each.dataset.lane === lane);
  bar.setAttribute("x", x + minutes * board.minuteWidth);
  bar.setAttribute("transform", `translate(0 ${(to - from) * 52})`);
  board.lanes.forEach((each) => each.classList.toggle("target", each.dataset.lane === lane));
}

function putBack() {
  if (!board.carry) return;
  board.carry.minutes = 0;
  board.carry.lane = board.carry.bar.dataset.lane;
  show();
  drop();
}

function drop() {
  const { bar, minutes, lane } = board.carry;
  bar.classList.remove("held");
  board.lanes.forEach((each) => each.classList.remove("target"));
  board.carry = null;
  if (!minutes && lane === bar.dataset.lane) return;
  const plan = document.getElementById("plan");
  bar.classList.add("checking");
  document.getElementById("panel").textContent = plan.dataset.checking;
  const values = { job: bar.dataset.job, stage: bar.dataset.stage, start: parseInt(bar.dataset.start, 10) + minutes, from: bar.dataset.lane, lane, lanes: plan.dataset.lanes, zoom: plan.dataset.zoom };
  htmx.ajax("POST", plan.dataset.move, { target: "#plan", swap: "outerHTML", values });
}

function shiftCarried(minutes, laneStep) {
  const at = board.lanes.findIndex((each) => each.dataset.lane === board.carry.lane);
  board.carry.minutes += minutes;
  const next = board.lanes[at + laneStep];
  if (next) board.carry.lane = next.dataset.lane;
  show();
}

function neighbour(bar, key) {
  const bars = board.bars;
  const index = bars.indexOf(bar);
  if (key === "ArrowRight") return bars[index + 1];
  if (key === "ArrowLeft") return bars[index - 1];
  const lanes = [...new Set(bars.map((each) => each.dataset.lane))];
  const lane = lanes[lanes.indexOf(bar.dataset.lane) + (key === "ArrowDown" ? 1 : -1)];
  const mine = parseInt(bar.dataset.start, 10);
  const distance = (each) => Math.abs(parseInt(each.dataset.start, 10) - mine);
  return bars.filter((each) => each.dataset.lane === lane).sort((one, two) => distance(one) - distance(two))[0];
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

document.addEventListener("keydown", (event) => {
  if (!event.target.closest || !event.target.closest("#board")) return;
  const bar = event.target.closest(".bar:not(.watch)");
  const arrow = ARROWS[event.key];
  if (!bar) {
    if (arrow && board.bars.length && event.target === board.root && !event.shiftKey) { choose(board.bars[0], true); event.preventDefault(); }
    return;
  }
  if (arrow && event.shiftKey) {
    if (!board.carry) pickUp(bar);
    if (board.carry) shiftCarried(arrow[0] * board.grid, arrow[1]);
  } else if (arrow) {
    putBack();
    const next = neighbour(bar, event.key);
    if (next) { choose(next, true); next.scrollIntoView({ block: "nearest", inline: "nearest" }); }
  } else if (event.key === "Enter" || event.key === " ") {
    if (board.carry) drop(); else open(bar);
  } else if (event.key === "Escape") putBack();
  else return;
  event.preventDefault();
});

let press = null;
document.addEventListener("pointerdown", (event) => {
  const bar = event.target.closest && event.target.closest("#board .bar:not(.watch)");
  if (bar && event.button === 0) press = { bar, x: event.clientX, y: event.clientY, moved: false, id: event.pointerId };
});
document.addEventListener("pointermove", (event) => {
  if (!press || event.pointerId !== press.id) return;
  const dx = event.clientX - press.x;
  if (!press.moved && Math.hypot(dx, event.clientY - press.y) < 6) return;
  if (!press.moved) { press.moved = true; pickUp(press.bar); }
  if (!board.carry) return;
  board.carry.minutes = Math.round(dx / board.minuteWidth / board.grid) * board.grid;
  const lane = laneAt(event.clientY);
  if (lane) board.carry.lane = lane.dataset.lane;
  show();
});
document.addEventListener("pointerup", () => {
  if (press && !press.moved) open(press.bar);
  else if (board.carry) drop();
  press = null;
});
document.addEventListener("pointercancel", () => { putBack(); press = null; });
// Chromium heeds touch-action on the outer svg only: a finger on a bar carries it, elsewhere it scrolls.
document.addEventListener("touchstart", (event) => { if (event.target.closest("#board .bar:not(.watch)")) event.preventDefault(); }, { passive: false });

// The present; or, where nothing stands near it, such as at night, the first work after it.
function firstShown(now) {
  const width = board.root.clientWidth * 0.75;
  const starts = board.bars.map((bar) => parseFloat(bar.getAttribute("x")));
  const ends = board.bars.map((bar, index) => starts[index] + parseFloat(bar.getAttribute("width")));
  if (ends.some((end, index) => end > now && starts[index] < now + width / 2)) return now;
  const later = starts.filter((start) => start > now);
  return later.length ? Math.min(...later) : now;
}

function settle() {
  if (!board.root) return;
  if (board.bars.length) board.bars[0].setAttribute("tabindex", "0");
  const now = document.getElementById("now");
  const at = now ? now.transform.baseVal[0].matrix.e : 0;
  if (!board.root.dataset.settled) board.root.scrollLeft = Math.max(0, firstShown(at) - board.root.clientWidth / 4);
  board.root.dataset.settled = "yes";
}
document.addEventListener("DOMContentLoaded", settle);
document.addEventListener("htmx:afterSettle", settle);

setInterval(() => {
  const now = document.getElementById("now");
  if (now) now.transform.baseVal[0].matrix.e += board.minuteWidth / 2;
}, 30000);
