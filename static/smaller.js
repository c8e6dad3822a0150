// Makes a smaller picture of a photograph, for a weak network: so many dots along its long side, as JPEG, upright.
const LONG = 2560, QUALITY = 0.8;
const WORTH = 0.8; // of the camera's bytes; what saves less is not worth it

/** The bytes of a smaller picture; null where that would save little. */
export const smaller = async (bytes, type) => {
  const picture = await createImageBitmap(new Blob([bytes], { type }), { imageOrientation: "from-image" });
  try {
    const scale = Math.min(1, LONG / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const made = await new Promise((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    const small = made && new Uint8Array(await made.arrayBuffer());
    return small && small.length < bytes.length * WORTH ? small : null;
  } finally {
    picture.close();
  }
};

// Chosen once, it stays chosen on this phone until it is chosen away.
const SMALLER = "tackbook smaller";
/** Whether smaller pictures are wanted. */
export const wantsSmaller = () => { try { return localStorage.getItem(SMALLER) === "yes"; } catch (error) { return false; } };
/** Shows the choice on the sheet. */
export const showChoice = () => {
  const wanted = wantsSmaller();
  document.querySelectorAll("[data-smaller]").forEach((box) => { box.checked = wanted; });
  document.querySelectorAll("[data-if-smaller]").forEach((line) => { line.hidden = !wanted; });
};
document.addEventListener("change", ({ target }) => {
  if (!target.matches("[data-smaller]")) return;
  // where the browser keeps no such choice, the camera's own pictures go
  try { localStorage.setItem(SMALLER, target.checked ? "yes" : "no"); } catch (error) { /* shown below */ }
  showChoice();
});
showChoice();
