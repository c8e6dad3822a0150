// What is typed under a part is not lost by leaving it: whoever goes another way than by the form's buttons leaves the answer
// to be saved behind them, just as the buttons save it. Without script the buttons of the form do it alone.
const form = document.getElementById("review");
const typed = () => new URLSearchParams(new FormData(form)).toString();
// what the server sent back with the form is saved nowhere yet
let saved = form.hasAttribute("data-unsaved") ? "" : typed();
form.addEventListener("submit", () => { saved = null; });
addEventListener("pagehide", () => {
  if (saved === null || typed() === saved) return;
  saved = typed();
  fetch(form.action, { method: "POST", body: new URLSearchParams(saved), keepalive: true, redirect: "manual" });
});
