// A take's page: n and p go from one trouble to the next.
import { into } from "./workbench.js";

const links = [...document.querySelectorAll("a[data-trouble]")].map(a => a.href);
let at = -1;
document.addEventListener("keydown", e => {
  if (links.length === 0 || e.ctrlKey || e.altKey || e.metaKey || e.target.matches("input, select, textarea")) return;
  const step = { n: 1, p: -1 }[e.key];
  if (!step) return;
  e.preventDefault();
  at = (at + step + links.length) % links.length;
  const mark = document.querySelector(`.heard a.touch[href="${new URL(links[at]).pathname + new URL(links[at]).search}"]`);
  document.querySelectorAll(".touch[aria-current]").forEach(a => a.removeAttribute("aria-current"));
  mark?.setAttribute("aria-current", "true");
  mark?.scrollIntoView({ block: "center" });
  into(document.querySelector("#panel"), links[at]);
});
