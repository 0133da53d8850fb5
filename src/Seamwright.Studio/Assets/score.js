// A piece's music comes in runs of systems: the first, or those in sight, with the page, the others one after the other.

/** Bars that a figure begins with. */
const barOf = figure => Number(figure.dataset.bar);
const figures = score => [...score.querySelectorAll(":scope > figure.music")];

/** The first system that is in sight, whose bars are planned before all others; null where that is the first of all. */
function inSight(score) {
  const all = figures(score);
  const first = all.find(f => f.getBoundingClientRect().bottom > 0);
  return first && first !== all[0] ? first : null;
}

// At once, whatever the style sheet says of scrolling.
const go = pixels => scrollBy({ top: pixels, behavior: "instant" });

// Bars may come to stand in other systems: what is kept in its place is the system with the same first note.
const noteOf = figure => figure?.querySelector("[data-note]")?.dataset.note;
const holding = (score, note) => score.querySelector(`:scope > figure.music:not(.waiting) [data-note="${note}"]`)?.closest("figure") ?? score.querySelector(`[data-note="${note}"]`)?.closest("figure");

/** Keeps what is looked at where it is while the music around it changes. */
function steady(score, change) {
  const seen = inSight(score);
  const [note, top] = [noteOf(seen), seen?.getBoundingClientRect().top];
  change();
  const now = note && holding(score, note);
  if (now) go(now.getBoundingClientRect().top - top);
}

let filling = 0;

/** Fetches run after run from an address on; each takes the place of what stood for its bars. */
async function fill(score, address) {
  const turn = ++filling;
  while (address) {
    const answer = await fetch(address);
    const piece = document.createElement("template");
    piece.innerHTML = await answer.text();
    if (turn !== filling || !score.isConnected) return;
    if (!answer.ok) throw new Error("no music came");
    const come = [...piece.content.querySelectorAll("figure.music")];
    const more = piece.content.querySelector("[data-more]");
    const [from, to] = [barOf(come[0]), more ? Number(new URL(more.dataset.more, location.href).searchParams.get("from")) : Infinity];
    steady(score, () => {
      for (const old of figures(score)) if (barOf(old) >= from && barOf(old) < to) old.remove();
      const next = figures(score).find(f => barOf(f) >= to) ?? score.querySelector(":scope > .more");
      for (const e of [piece.content.querySelector(".shapes"), ...come]) score.insertBefore(e, next);
    });
    onlyOneStop(score);
    address = more?.dataset.more;
  }
  score.querySelector(":scope > .more")?.remove();
  score.dispatchEvent(new CustomEvent("whole", { bubbles: true }));
}

/** Fills what is missing of the score on the page; where nothing comes, the door to the next bars stays. */
function fillRest(score, come) {
  onlyOneStop(score);
  const whole = come.length > 0 && barOf(come[0]) > 0 ? `${location.pathname}/systems` : score.querySelector("[data-more]")?.dataset.more;
  if (whole) fill(score, whole).catch(() => {});
}

// Changed settings: the systems in sight come first, and the others stay, faint, until theirs have come.
let kept = [], seen = null;
document.addEventListener("formdata", e => {
  const score = e.target.dataset.into === "#piece" && document.querySelector("#piece .score");
  const first = score && inSight(score);
  if (first) e.formData.set("from", first.dataset.bar);
});
document.addEventListener("leaving", e => {
  if (e.target.id !== "piece") return;
  const score = e.target.querySelector(".score");
  const first = score && inSight(score);
  seen = first && { note: noteOf(first), top: first.getBoundingClientRect().top };
  kept = score ? figures(score) : [];
});
document.addEventListener("fetched", e => {
  if (e.target.id !== "piece") return;
  const score = e.target.querySelector(".score");
  if (!score) return;
  const come = figures(score);
  if (come.length > 0 && kept.length > 0) {
    const from = barOf(come[0]);
    const more = score.querySelector(".more");
    const to = more ? Number(new URL(more.querySelector("a").dataset.more, location.href).searchParams.get("from")) : Infinity;
    for (const figure of kept) {
      const bar = barOf(figure);
      if (bar >= from && bar < to) continue;
      figure.classList.add("waiting");
      score.insertBefore(figure, bar < from ? come[0] : more);
    }
    if (seen?.note) go(holding(score, seen.note).getBoundingClientRect().top - seen.top);
  }
  kept = [];
  fillRest(score, come);
});

/** Notes and changes are one stop for the keyboard; the arrows go from one to the next. */
function onlyOneStop(score) {
  const all = [...score.querySelectorAll("a.touch")];
  const here = all.find(a => a === document.activeElement) ?? all[0];
  for (const a of all) a.setAttribute("tabindex", a === here ? "0" : "-1");
}
document.addEventListener("keydown", e => {
  const here = e.target.closest?.("#piece a.touch");
  if (!here || e.ctrlKey || e.metaKey || e.altKey) return;
  const all = [...here.closest(".score").querySelectorAll("a.touch")];
  const way = { ArrowRight: 1, ArrowLeft: -1, Home: -all.length, End: all.length }[e.key];
  if (!way) return;
  e.preventDefault();
  const next = all[Math.min(all.length - 1, Math.max(0, all.indexOf(here) + way))];
  goTo(here, next);

  // The end of a long part may still be on its way.
  const score = next.closest(".score");
  if (e.key === "End" && score.querySelector(":scope > .more"))
    score.addEventListener("whole", () => document.activeElement === next && goTo(next, [...score.querySelectorAll("a.touch")].at(-1)), { once: true });
});

function goTo(from, next) {
  from.setAttribute("tabindex", "-1");
  next.setAttribute("tabindex", "0");
  next.focus();
}

const first = document.querySelector("#piece .score");
if (first) fillRest(first, figures(first));
