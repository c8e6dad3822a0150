// Takes photographs while one walks on: each is kept on this phone first, then sent. Without it the plain form does the same.
import { canKeep, keep } from "./keeping.js";
import { coming, show, tell } from "./queue.js";
import { keepSaid } from "./said.js";
import { all, take, unsent } from "./sending.js";
import { sha256 } from "./sha256.js";
import { smaller, wantsSmaller } from "./smaller.js";
import { go } from "./walking.js";

const LARGEST = 64 * 1024 * 1024;
const NAMED = 20; // so many files that were left out are named
const NO_ROOM = "This phone has no room to keep another photo: it was not taken. What is here stays and is sent.";
let full = false;

const scripted = (yes) => document.documentElement.classList.toggle("scripted", yes);
scripted(true);
canKeep().then(scripted);

const newName = () => {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = Array.from(b, (x) => x.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};
const kindOf = (b) => {
  const is = (at, ...bytes) => bytes.every((byte, i) => b[at + i] === byte);
  if (is(0, 0xff, 0xd8, 0xff)) return "image/jpeg";
  if (is(0, 0x89, 0x50, 0x4e, 0x47)) return "image/png";
  if (is(0, 0x52, 0x49, 0x46, 0x46) && is(8, 0x57, 0x45, 0x42, 0x50)) return "image/webp";
  return "";
};
const localTime = (ms) => {
  const at = new Date(ms), two = (n) => String(n).padStart(2, "0");
  const off = -at.getTimezoneOffset(), sign = off < 0 ? "-" : "+";
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())} ${sign}${two(Math.floor(Math.abs(off) / 60))}:${two(Math.abs(off) % 60)}`;
};

const noted = (form, name) => (form.elements[name] || {}).value || "";
/** What is ticked as seen, at the shot that is on the screen. */
const ticked = () => Array.from(document.querySelectorAll('.shot-must [name="seen"]:checked'), (one) => one.value);
/** Keeps one on this phone; gives whether it lies there now. */
const pick = async (file, told) => {
  const one = {
    ...told, uuid: newName(), by: document.body.dataset.person, taken: localTime(file.lastModified), picked: Date.now(),
    size: file.size, sent: 0, state: "reading", why: "", url: URL.createObjectURL(file),
  };
  all.push(one);
  show(one);
  const fails = (why) => {
    all.splice(all.indexOf(one), 1);
    one.row.remove();
    tell();
    return why;
  };
  let bytes;
  try {
    const taken = new Uint8Array(await file.arrayBuffer());
    // where it cannot be made smaller, the camera's own goes
    bytes = (told.smaller && await smaller(taken, kindOf(taken)).catch(() => null)) || taken;
    const camera = bytes === taken ? undefined : taken.length;
    Object.assign(one, { size: bytes.length, type: kindOf(bytes), sha256: await sha256(bytes), camera_size: camera });
  } catch (error) {
    return fails("The phone could not read this photo. Take it again.");
  }
  const { uuid, build, shot, note, by, taken, picked, size, type, camera_size } = one;
  try {
    await keep({ uuid, build, shot, note, by, taken, picked, size, type, camera_size, sha256: one.sha256, state: "here" }, bytes);
  } catch (error) {
    full = error.name === "QuotaExceededError";
    return fails(full ? NO_ROOM : "This phone could not keep the photo. Take it again.");
  }
  take(one);
  if (told.seen.length) await keepSaid({ build, capture: uuid, seen: told.seen }).catch(() => {});
  askToStay();
  return "";
};
let askedToStay = false;
/** Asks the browser not to clear what is kept, once there is something. */
const askToStay = () => {
  if (askedToStay || !navigator.storage?.persist) return;
  askedToStay = true;
  navigator.storage.persist().catch(() => {});
};

addEventListener("beforeunload", (leaving) => { if (all.some((one) => one.state === "reading")) leaving.preventDefault(); });
document.addEventListener("change", async (changed) => {
  const input = changed.target, form = input.form;
  if (input.type !== "file" || !form || !form.matches("form.take") || !(await canKeep())) return;
  const files = Array.from(input.files), why = form.querySelector("p.why"), wrong = [], good = [];
  const left = [];
  const told = { build: form.dataset.take.split("/")[2], shot: form.dataset.shot, note: noted(form, "note"), smaller: wantsSmaller(), seen: ticked() };
  for (const file of files) {
    const kind = kindOf(new Uint8Array(await file.slice(0, 16).arrayBuffer().catch(() => new ArrayBuffer(0))));
    // a folder holds other files as well
    if (!kind && input.webkitdirectory) left.push(file.name);
    else if (!kind) wrong.push(`${file.name} is no photo that can be kept. JPEG, PNG and WebP can; set the camera to JPEG.`);
    else if (file.size > LARGEST) wrong.push(`${file.name} has more than 64 MiB. Set the camera to a smaller picture.`);
    else good.push(file);
  }
  input.value = "";
  const more = left.length > NAMED ? ` and ${left.length - NAMED} more` : "";
  if (left.length) wrong.push(`Of the folder ${good.length} photos were taken up. Left out, as no photos that can be kept: ${left.slice(0, NAMED).join(", ")}${more}.`);
  full = full && unsent().length > 0;
  let toRead = good.length;
  for (const file of good) {
    coming(--toRead);
    const fault = full ? NO_ROOM : await pick(file, told);
    if (fault && !wrong.includes(fault)) wrong.push(fault);
  }
  why.hidden = wrong.length === 0;
  why.textContent = wrong.join(" ");
  if (good.length && !wrong.length && form.dataset.next) go("GET", form.dataset.next);
});
