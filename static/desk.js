// Puts a photograph to another shot by dragging it there. Without script the photograph's own page and a form do the same.
const said = document.querySelector("[data-said]");
const say = (words) => { if (said) { said.hidden = !words; said.textContent = words; } };
let dragged = null;

for (const one of document.querySelectorAll("[data-capture]")) {
  one.draggable = true;
  for (const inside of one.querySelectorAll("a, img")) inside.draggable = false;
}
document.addEventListener("dragstart", (begun) => {
  dragged = begun.target.closest ? begun.target.closest("[data-capture]") : null;
  if (!dragged) return;
  begun.dataTransfer.effectAllowed = "move";
  begun.dataTransfer.setData("text/plain", dragged.dataset.capture);
  document.documentElement.classList.add("dragging");
});
const over = (event) => dragged && event.target.closest && event.target.closest("[data-drop]");
document.addEventListener("dragover", (event) => {
  const shot = over(event);
  document.querySelectorAll(".takes").forEach((one) => one.classList.toggle("takes", one === shot));
  if (!shot) return;
  event.preventDefault();
  shot.classList.add("takes");
});
// an area opens when something is held over its name
document.addEventListener("dragenter", (event) => {
  const name = dragged && event.target.closest && event.target.closest("summary");
  if (name) name.parentNode.open = true;
});
document.addEventListener("dragend", () => {
  dragged = null;
  document.documentElement.classList.remove("dragging");
  document.querySelectorAll(".takes").forEach((one) => one.classList.remove("takes"));
});
document.addEventListener("drop", async (event) => {
  const shot = over(event);
  if (!shot) return;
  event.preventDefault();
  const { to, capture } = dragged.dataset;
  say("");
  try {
    const answer = await fetch(`${to}/place`, {
      method: "POST", body: new URLSearchParams({ capture, shot: shot.dataset.drop, back: "photos" }), redirect: "follow", credentials: "same-origin",
    });
    if (answer.ok) return location.reload();
    const page = await answer.text();
    // the page that came back says why beside its field
    const why = /class="why"[^>]*>([^<]+)</.exec(page);
    say(why ? why[1] : "It was not put there. Load the page anew and try again.");
  } catch (error) {
    say("No connection to the shop: it was not put there.");
  }
});
