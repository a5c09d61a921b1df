// Keys, what is tried while it is typed, and what the server tells. Everything else is htmx.
"use strict";
(() => {
  let asked = null;
  const figures = () => document.getElementById("figures");

  const tryOut = async (field) => {
    asked?.abort();
    asked = new AbortController();
    const body = new URLSearchParams({ path: field.dataset.path, value: field.value, digest: document.getElementById("digest").value });
    try {
      const answer = await fetch(field.dataset.try, { method: "POST", body, signal: asked.signal });
      if (answer.ok && figures()) figures().innerHTML = await answer.text();
    } catch (error) {
      if (error.name !== "AbortError") throw error;
    }
  };

  const fit = (field) => { if (field.size) field.size = Math.min(Math.max(field.value.length, 3), 44); };

  document.addEventListener("input", (event) => {
    if (event.target.dataset?.try) { fit(event.target); tryOut(event.target); }
  });

  document.addEventListener("keydown", (event) => {
    const field = event.target;
    const typing = field.matches?.("input, select, textarea");
    if (event.key === "Escape" && field.dataset?.try && field.value !== field.defaultValue) {
      field.value = field.defaultValue;
      fit(field);
      tryOut(field);
      field.select();
      event.preventDefault();
    } else if (typing || event.ctrlKey || event.metaKey || event.altKey) {
      return;
    } else if (event.key === "?") {
      const keys = document.getElementById("keys");
      if (keys.open) keys.close(); else keys.showModal();
    } else if (event.key === "u" || event.key === "r") {
      document.getElementById(event.key === "u" ? "undo" : "redo")?.click();
    }
  });

  document.addEventListener("click", (event) => {
    if (event.target.id === "help") document.getElementById("keys").showModal();
    const line = Number(event.target.dataset?.line);
    const text = document.querySelector("textarea[name=words]");
    if (line && text) {
      const start = text.value.split("\n").slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
      const end = text.value.indexOf("\n", start);
      text.focus();
      text.setSelectionRange(start, end < 0 ? text.value.length : end);
      event.preventDefault();
    }
  });

  // While an edit of this window is on its way what the server tells may be of it: what is told waits for its answer,
  // which says what changed and would else be overwritten by the page as it is then.
  let sending = 0, newer = null;
  const follow = () => {
    const now = document.getElementById("state")?.value;
    if (sending || newer === null || newer === now) { if (!sending) newer = null; return; }
    newer = null;
    const main = document.querySelector("[data-events]");
    if ("reload" in main.dataset) { location.reload(); return; }
    const here = document.activeElement;
    if (here?.value === here?.defaultValue || !here?.dataset?.try) {
      htmx.ajax("GET", `${location.pathname}/work`, { target: "#work", swap: "outerHTML" });
    }
  };
  document.addEventListener("htmx:beforeRequest", (event) => {
    if (event.detail.target?.id === "work") asked?.abort();  // what only asks for the days takes nothing of it away
    if (event.detail.requestConfig.verb === "post") sending += 1;
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.requestConfig.verb === "post") { sending -= 1; follow(); }
  });

  // What was opened or closed stays so, and the keyboard stays where it was, whatever an edit brings anew.
  const folds = new Map();
  let stood = [];
  document.addEventListener("toggle", (event) => { if (event.target.id && event.target.id !== "comes") folds.set(event.target.id, event.target.open); }, true);
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target?.id !== "work") return;
    stood = [];
    for (let here = document.activeElement; here && here.id !== "work"; here = here.parentElement) if (here.id) stood.push(here.id);
  });
  const asBefore = () => {
    folds.forEach((open, id) => { const fold = document.getElementById(id); if (fold && fold.open !== open) fold.open = open; });
    if (!stood.length || (document.activeElement && document.activeElement !== document.body)) return;
    const there = stood.map((id) => document.getElementById(id)).find(Boolean);
    (there?.matches("input, select, button, summary") ? there : there?.querySelector("summary, input, select, button"))?.focus();
    stood = [];
  };

  // On a narrow window what comes of it is one line at the foot, until it is opened.
  const narrow = matchMedia("(max-width: 62rem)");
  let opened = false;
  const fold = () => { const comes = document.getElementById("comes"); if (comes) comes.open = !narrow.matches || opened; };
  narrow.addEventListener("change", fold);
  document.addEventListener("htmx:afterSettle", (event) => {
    fold();
    if (event.target.id === "work" || event.detail.elt?.id === "work") asBefore();
    // The days of the text before stay, hatched, until those of this one come.
    if (event.target.id === "work" || event.detail.elt?.id === "work") htmx.trigger("#days", "days-there");
  });
  document.addEventListener("toggle", (event) => { if (event.target.id === "comes" && narrow.matches) opened = event.target.open; }, true);

  const listen = () => {
    fold();
    const main = document.querySelector("[data-events]");
    if (!main) return;
    const source = new EventSource(main.dataset.events);
    const now = () => document.getElementById("state")?.value;
    const days = () => {
      if (document.getElementById("days")) htmx.trigger("#days", "days-there");
      else if ("reload" in main.dataset && document.getElementById("doing")) location.reload();
    };
    if (document.getElementById("days")) source.addEventListener("open", days);
    source.addEventListener("days", days);
    source.addEventListener("doing", (event) => {
      const doing = document.getElementById("doing");
      if (doing) doing.textContent = JSON.parse(event.data).words;
    });
    source.addEventListener("text", (event) => {
      newer = JSON.parse(event.data);
      follow();
    });
    // What is told before the stream is open, or while it is lost, would else never be asked for.
    setInterval(() => {
      const told = document.querySelector("#days [data-state]");
      const waits = document.getElementById("doing")?.textContent || told?.classList.contains("old");
      if (!document.hidden && (waits || (told && now() && told.dataset.state !== now()))) days();
    }, 2500);
    window.addEventListener("pagehide", () => source.close());
  };
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", listen); else listen();
})();
