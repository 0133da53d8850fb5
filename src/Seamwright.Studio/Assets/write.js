// The melody is engraved while it is typed, when the fingers rest for a moment.
import { into } from "./workbench.js";

const form = document.querySelector("form[data-write]");
let waiting = 0;
form.abc.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(() => into(document.querySelector("#written"), "/music/write/engraved", { method: "POST", body: new FormData(form) }), 250);
});
