// At the bench an answer changes only what it says otherwise: what is typed, opened or seen to elsewhere stays.
"use strict";
(() => {
  const parts = (within) => [...(within?.querySelectorAll("[data-part]") ?? [])];
  const bench = () => document.getElementById("bench");
  let sent = new Map();
  const keep = (from) => { sent = new Map(parts(from).map((part) => [part.dataset.part, part.innerHTML])); };

  const patched = (fresh) => {
    const now = parts(bench()), then = parts(fresh);
    if (now.length !== then.length || now.some((part, at) => part.dataset.part !== then[at].dataset.part)) return false;
    const stood = document.activeElement?.id;
    const texts = new Map(then.map((part) => [part.dataset.part, part.innerHTML]));
    now.forEach((part, at) => {
      if (sent.get(part.dataset.part) === texts.get(part.dataset.part)) return;
      part.replaceChildren(...[...then[at].childNodes].map((node) => document.importNode(node, true)));
      htmx.process(part);
    });
    sent = texts;
    if (stood && document.activeElement?.id !== stood) document.getElementById(stood)?.focus();
    return true;
  };

  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target?.id !== "bench" || !event.detail.shouldSwap) return;
    const fresh = new DOMParser().parseFromString(event.detail.serverResponse, "text/html").getElementById("bench");
    if (!fresh) return;
    if (patched(fresh)) event.detail.shouldSwap = false; else keep(fresh);
    queueMicrotask(seen);
  });

  // What was seen to is no entry of the record, which holds steps: it stays in this browser, for this plan.
  const begins = `seen ${location.pathname} `;
  const name = (box) => {
    const plan = document.querySelector("#bench input[name=plan]")?.value ?? "";
    return `${begins}${plan} ${box.closest("[data-part]")?.dataset.part} ${box.parentElement.textContent.trim()}`;
  };
  const seen = () => document.querySelectorAll(".to-see input").forEach((box) => { box.checked = localStorage.getItem(name(box)) === "yes"; });
  document.addEventListener("change", (event) => {
    if (!event.target.matches?.(".to-see input")) return;
    if (event.target.checked) localStorage.setItem(name(event.target), "yes"); else localStorage.removeItem(name(event.target));
  });
  document.addEventListener("htmx:afterSettle", seen);
  // What an older plan of the same piece left behind is of no use any more.
  const forget = () => {
    const plan = document.querySelector("#bench input[name=plan]")?.value;
    if (plan) Object.keys(localStorage).filter((key) => key.startsWith(begins) && !key.startsWith(`${begins}${plan} `)).forEach((key) => localStorage.removeItem(key));
  };
  document.addEventListener("DOMContentLoaded", () => { keep(bench()); forget(); seen(); });
})();
