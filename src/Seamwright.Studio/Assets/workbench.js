// What every page needs: dropped files are sent, and pieces of pages are fetched into their places.

/** Files dropped anywhere on the page go into the form that asks for them. */
function takeDrops() {
  const form = document.querySelector("form[data-drop]");
  if (!form) return;
  const input = form.querySelector("input[type=file]");
  input.addEventListener("change", () => input.files.length > 0 && form.requestSubmit());
  const over = on => form.classList.toggle("over", on);
  addEventListener("dragover", e => { e.preventDefault(); over(true); });
  addEventListener("dragleave", e => e.relatedTarget === null && over(false));
  addEventListener("drop", e => {
    e.preventDefault();
    over(false);
    if (e.dataTransfer.files.length === 0) return;
    input.files = e.dataTransfer.files;
    form.requestSubmit();
  });
}

const asked = new WeakMap();

/** Fetches a piece of a page; what went wrong is said in its place. Of several wishes for one place the last is shown. */
export async function into(place, url, options) {
  const turn = (asked.get(place) ?? 0) + 1;
  asked.set(place, turn);
  place.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(url, options);
    const text = await answer.text();
    if (asked.get(place) !== turn) return;
    const before = place.contains(document.activeElement) ? document.activeElement : null;
    const [id, label] = [before?.id, before?.getAttribute("aria-label")];
    place.dispatchEvent(new CustomEvent("leaving", { bubbles: true }));
    place.innerHTML = text;

    // Whoever goes by keyboard stays where they were.
    if (id) document.getElementById(id)?.focus();
    else if (label) [...place.querySelectorAll("[aria-label]")].find(e => e.getAttribute("aria-label") === label)?.focus();
    else if (before) { place.tabIndex = -1; place.focus({ preventScroll: true }); }
    place.dispatchEvent(new CustomEvent("fetched", { bubbles: true }));
  } catch {
    if (asked.get(place) === turn) place.textContent = "The workbench does not answer. Is it still running? Nothing that was stored is lost.";
  } finally {
    if (asked.get(place) === turn) place.removeAttribute("aria-busy");
  }
}

/** Links and forms with data-into="#id" fill that place instead of the page. */
function fillPlaces() {
  document.addEventListener("click", e => {
    const link = e.target.closest("a[data-into]");
    if (!link || e.ctrlKey || e.metaKey || e.shiftKey || e.button !== 0) return;
    e.preventDefault();
    into(document.querySelector(link.dataset.into), link.getAttribute("href")); // in a drawing, href is no text
  });
  document.addEventListener("submit", e => {
    const form = e.target.closest("form[data-into]");
    if (!form) return;
    e.preventDefault();
    const data = new FormData(form, e.submitter);
    into(document.querySelector(form.dataset.into), form.action, { method: form.method, body: data });
  });
  // A changed choice is sent at once.
  document.addEventListener("change", e => e.target.closest("form[data-at-once]")?.requestSubmit());
}

/** On a narrow page the panel lies under the music: it is brought into sight when it is filled. */
document.addEventListener("fetched", e => {
  const box = e.target.getBoundingClientRect();
  if (e.target.id === "panel" && (box.top > innerHeight - 120 || box.bottom < 0)) e.target.scrollIntoView({ block: "nearest" });
});

/** A narrow window wants narrow systems: the server is told, and a page with music asks for them once. */
function tellWidth() {
  const told = () => /(?:^|; )width=(\w+)/.exec(document.cookie)?.[1] ?? "wide";
  const [before, width] = [told(), matchMedia("(max-width: 760px)").matches ? "narrow" : "wide"];
  document.cookie = `width=${width}; path=/; SameSite=Strict`;
  if (width === before || told() !== width || !document.querySelector("figure.music:not(.chart)")) return;
  const piece = document.querySelector("div#piece");
  piece ? into(piece, location.href) : location.reload();
}

takeDrops();
fillPlaces();
tellWidth();
