// A take's page: the troubles one after the other, all of them or only those of chosen kinds.
import { into } from "./workbench.js";

const kindsOf = e => e.dataset.verdicts.split(" ");
const troubles = [...document.querySelectorAll("a[data-trouble]")].map(a => ({ url: a.getAttribute("href"), kinds: kindsOf(a) }));
const panel = document.querySelector("#panel");
const chosen = new Set();
const wanted = kinds => chosen.size === 0 || kinds.some(k => chosen.has(k));
const shown = () => troubles.filter(t => wanted(t.kinds));
let open = null;

/** Marks a change in the music as the one in the panel. */
function mark(url) {
  open = url;
  document.querySelectorAll(".touch[aria-current]").forEach(a => a.removeAttribute("aria-current"));
  const place = document.querySelector(`.heard a.touch[href="${url}"]`);
  place?.setAttribute("aria-current", "true");
  return place;
}

function step(way) {
  const all = shown();
  if (all.length === 0) return;
  const at = all.findIndex(t => t.url === open);
  const next = all[at < 0 ? (way > 0 ? 0 : all.length - 1) : (at + way + all.length) % all.length].url;
  const place = mark(next);

  // Beside each other both are seen; on a narrow page the panel is what is read.
  if (matchMedia("(max-width: 1000px)").matches) panel.scrollIntoView({ block: "start" });
  else place?.scrollIntoView({ block: "center" });
  into(panel, next);
}

document.addEventListener("keydown", e => {
  const way = { n: 1, p: -1 }[e.key];
  if (!way || e.ctrlKey || e.altKey || e.metaKey || e.target.matches("input, select, textarea")) return;
  e.preventDefault();
  step(way);
});

document.addEventListener("click", e => {
  const link = e.target.closest("a[data-into='#panel']");
  if (link) mark(link.getAttribute("href"));
  const button = e.target.closest("[data-step]");
  if (button) step(Number(button.dataset.step));
  const kind = e.target.closest("[data-only]");
  if (kind) choose(kind);
});

document.addEventListener("fetched", e => e.target === panel && open && showSteps());

/** Above a change stands which of how many it is, with the way to its neighbours. */
function showSteps() {
  panel.querySelector(".steps")?.remove();
  const all = shown(), at = all.findIndex(t => t.url === open);
  if (at < 0) return;
  const steps = document.createElement("p");
  steps.className = "steps";
  const to = (way, words) => Object.assign(document.createElement("button"), { type: "button", textContent: words, ariaLabel: `${words} trouble` });
  const [before, after] = [to(-1, "before"), to(1, "next")];
  before.dataset.step = -1;
  after.dataset.step = 1;
  steps.append(before, ` ${at + 1} of ${all.length} `, after);
  panel.prepend(steps);
}

/** Shows only what carries the pressed verdict; pressed again, everything. */
function choose(button) {
  const kind = chosen.has(button.dataset.only) ? null : button.dataset.only;
  chosen.clear();
  if (kind) chosen.add(kind);
  for (const b of document.querySelectorAll("[data-only]")) b.setAttribute("aria-pressed", b.dataset.only === kind);
  for (const a of document.querySelectorAll(".heard a.touch")) a.classList.toggle("aside", !wanted(kindsOf(a)));
  for (const a of document.querySelectorAll("a[data-trouble]")) a.closest("li").hidden = !wanted(kindsOf(a));
  document.querySelector("[data-chosen]").textContent = kind ? `${shown().length} of ${troubles.length} to mend are shown; press again to see all.` : "Press one of these to see it alone.";
  const count = document.querySelector("[data-count]");
  if (count) count.textContent = kind ? `To mend: ${shown().length} of ${troubles.length}` : `To mend: ${troubles.length}`;

  // The panel follows: a change of another kind gives way to the first of this one.
  if (open && troubles.some(t => t.url === open)) shown().some(t => t.url === open) ? showSteps() : step(1);
}
