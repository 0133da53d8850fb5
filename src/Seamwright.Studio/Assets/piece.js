// The piece's page: changes are heard at a touch, one at a time, once or again and again.
const voice = new Audio();
let pressed = null;

document.addEventListener("click", e => {
  const button = e.target.closest("button[data-hear]");
  if (!button) return;
  const same = pressed === button && !voice.paused;
  pressed?.removeAttribute("aria-pressed");
  voice.pause();
  if (same) return;
  pressed = button;
  button.setAttribute("aria-pressed", "true");
  voice.src = button.dataset.hear;
  voice.loop = document.querySelector("[data-again]")?.checked ?? false;
  voice.playbackRate = Number(button.dataset.speed ?? 1);
  voice.play();
});
voice.addEventListener("ended", () => pressed?.removeAttribute("aria-pressed"));
// What the panel tells of is marked in the music.
document.addEventListener("click", e => {
  const link = e.target.closest("#piece a[data-into='#panel']");
  if (!link) return;
  document.querySelectorAll("#piece .touch[aria-current]").forEach(a => a.removeAttribute("aria-current"));
  document.querySelector(`#piece a.touch[href="${link.getAttribute("href")}"]`)?.setAttribute("aria-current", "true");
});
document.addEventListener("change", e => {
  if (e.target.matches("[data-again]")) voice.loop = e.target.checked;
});
