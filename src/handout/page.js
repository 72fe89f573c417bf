"use strict";
const data = JSON.parse(document.getElementById("data").textContent);
const who = document.getElementById("who");
const keep = "ropeline " + data.shots.map(shot => shot ? shot.moment : "").join(" ");
const smooth = !matchMedia("(prefers-reduced-motion: reduce)").matches;
let answers = [];
try { answers = JSON.parse(localStorage.getItem(keep)) || []; } catch { answers = []; }
if (!Array.isArray(answers)) answers = [];

const newId = () => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const now = Date.now();
  for (let i = 0; i < 6; ++i) bytes[i] = Math.floor(now / 256 ** (5 - i)) % 256;
  bytes[6] = 0x70 | bytes[6] & 15;
  bytes[8] = 0x80 | bytes[8] & 63;
  const hex = [...bytes].map(byte => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
};
const length = metres => metres.toFixed(1) + " m (" + (metres / .3048).toFixed(1) + " ft)";
const percent = share => Math.round(100 * share) + "\u00a0%";

function leftAt(grid, [x, y]) {
  const across = (x - grid.left) / grid.step, out = (y - grid.near) / grid.step;
  if (across < 0 || out < 0 || across > grid.across - 1 || out > grid.out - 1) return null;
  const i = Math.min(Math.floor(across), grid.across - 2), j = Math.min(Math.floor(out), grid.out - 2);
  const at = (column, row) => grid.shares[row * grid.across + column];
  const u = across - i, v = out - j;
  return (1 - v) * ((1 - u) * at(i, j) + u * at(i + 1, j)) + v * ((1 - u) * at(i, j + 1) + u * at(i + 1, j + 1));
}

function words(shot, answer) {
  const said = [];
  if (shot.came === "shot" || shot.came === "pass")
    said.push(answer.read === shot.came ? "Read it: " + shot.came + "." : "Misread it: you called " + answer.read + ", " + shot.came + " came.");
  const [x, y] = answer.ice_m, [px, py] = shot.puck, way = Math.hypot(px, py) || 1;
  said.push("You: " + length((x * px + y * py) / way) + " out, " + length(Math.abs(x * py - y * px) / way) + " beside the puck line.");
  const left = shot.left ? leftAt(shot.left, answer.ice_m) : null;
  if (left !== null) {
    const gave = Math.max(0, left - shot.left.best);
    said.push((gave <= shot.worth ? "Right place: " : "It gives net away: ") + percent(left) + " of the net left open from there, " + percent(shot.left.best) + " from the best place.");
  }
  return said.join(" ");
}

function count() {
  const of = data.shots.filter(Boolean).length;
  document.getElementById("count").textContent = answers.length + " of " + of + " called.";
  document.getElementById("save").disabled = answers.length === 0;
}

function showAnswer(article, shot, answer) {
  article.classList.add("answered");
  article.classList.remove("placing");
  article.querySelector(".place").hidden = true;
  for (const button of article.querySelectorAll("[data-read]")) {
    button.disabled = true;
    button.setAttribute("aria-pressed", answer !== null && answer.read === button.dataset.read);
  }
  article.querySelector("svg.plan").setAttribute("aria-label", "Plan: puck, receivers, ropes, the goalie and the advised stretch");
  article.querySelector(".score").textContent = answer ? words(shot, answer) : "";
  if (answer) putCross(article, answer.ice_m);
}

function putCross(article, [x, y]) {
  const you = article.querySelector(".you");
  you.removeAttribute("hidden");
  you.setAttribute("transform", "translate(" + 100 * x + " " + -100 * y + ")");
}

function begin(article) {
  const shot = data.shots[article.dataset.shot];
  if (!shot) return;
  article.classList.add("asks");
  const box = article.querySelector(".plan-box"), plan = box.querySelector("svg");
  const view = plan.viewBox.baseVal;
  const inside = ([x, y]) => [Math.min(Math.max(x, view.x / 100), (view.x + view.width) / 100), Math.min(Math.max(y, -(view.y + view.height) / 100), -view.y / 100)];
  let read = null, cross = [0, 1], since = 0;
  const done = answers.find(answer => answer.moment === shot.moment);
  const call = article.querySelector("video");
  call.addEventListener("ended", () => { since = performance.now(); });
  const place = at => {
    if (!read || article.classList.contains("answered")) return;
    const answer = { id: newId(), moment: shot.moment, read, ice_m: at.map(metres => Math.round(1000 * metres) / 1000),
      answered_at: new Date().toISOString().replace(/\.\d+Z$/, "Z") };
    if (since) answer.took_s = Math.round(Math.min(3600, (performance.now() - since) / 1000) * 10) / 10;
    answers.push(answer);
    try { localStorage.setItem(keep, JSON.stringify(answers)); } catch { /* kept until the page is closed */ }
    showAnswer(article, shot, answer);
    count();
    const then = article.querySelector(".then");
    then.focus({ preventScroll: true });
    then.scrollIntoView({ block: "nearest", behavior: smooth ? "smooth" : "auto" });
    then.querySelector("video").play().catch(() => {});
  };
  for (const button of article.querySelectorAll("[data-read]")) button.addEventListener("click", () => {
    read = button.dataset.read;
    for (const other of article.querySelectorAll("[data-read]")) other.setAttribute("aria-pressed", other === button);
    article.classList.add("placing");
    article.querySelector(".place").hidden = false;
    putCross(article, cross);
    box.focus({ preventScroll: true });
    box.scrollIntoView({ block: "nearest", behavior: smooth ? "smooth" : "auto" });
  });
  plan.addEventListener("click", event => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(plan.getScreenCTM().inverse());
    place(inside([at.x / 100, -at.y / 100]));
  });
  box.addEventListener("keydown", event => {
    const step = event.shiftKey ? .5 : .1;
    const moves = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] };
    if (!article.classList.contains("placing")) return;
    if (moves[event.key]) {
      cross = inside([cross[0] + moves[event.key][0], cross[1] + moves[event.key][1]]);
      putCross(article, cross);
    } else if (event.key === "Enter") {
      place(cross);
    } else {
      return;
    }
    event.preventDefault();
  });
  article.querySelector("[data-show]").addEventListener("click", () => showAnswer(article, shot, null));
  if (done) showAnswer(article, shot, done);
}

for (const article of document.querySelectorAll("article")) begin(article);
document.getElementById("save").addEventListener("click", () => {
  const file = { ropeline_answers: 1, answered_by: who.value.trim(), answers };
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(file, null, 1)], { type: "application/json" }));
  link.download = "answers.json";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
});
addEventListener("beforeprint", () => { for (const more of document.querySelectorAll("details")) more.open = true; });
count();
