// Long work: how far it is, until it is done.
const bar = document.querySelector("#share"), words = document.querySelector("#share-words");
const url = `/work/${document.querySelector("[data-work]").dataset.work}`;

async function look() {
  try {
    const answer = await fetch(`${url}/share`);
    if (!answer.ok) return location.assign(url);
    const { share, done } = await answer.json();
    if (done) return location.assign(url);
    bar.value = share;
    words.textContent = `${Math.round(share * 100)} per cent`;
  } catch {
    words.textContent = "The workbench does not answer. Is it still running?";
  }
  setTimeout(look, 300);
}
look();
