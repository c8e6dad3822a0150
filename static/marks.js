// Draws over a photograph with a finger or the mouse: fills in the form's places and shows the line; the form keeps it.
const form = document.querySelector("#draw"), svg = document.querySelector("[data-marks] svg");
const SVG = "http://www.w3.org/2000/svg";

if (form && svg) {
  document.documentElement.classList.add("scripted");
  form.querySelector(".places").open = false;
  const frame = svg.viewBox.baseVal;
  const sketch = document.createElementNS(SVG, "g");
  sketch.setAttribute("class", "sketch");
  svg.append(sketch);
  let begun = null;

  const place = (touched) => {
    const box = svg.getBoundingClientRect();
    const part = (at, from, long) => Math.min(1, Math.max(0, (at - from) / long));
    return { x: part(touched.clientX, box.left, box.width), y: part(touched.clientY, box.top, box.height) };
  };
  const percent = (part) => `${(part * 100).toFixed(1)} %`;
  const put = (name, part) => { form.elements[name].value = percent(part); };
  const draw = (name, told) => {
    const one = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(told)) one.setAttribute(key, value);
    sketch.append(one);
  };
  const show = (from, to) => {
    sketch.replaceChildren();
    const [x1, y1, x2, y2] = [from.x * frame.width, from.y * frame.height, to.x * frame.width, to.y * frame.height];
    if (form.elements.shape.value === "circle") {
      draw("circle", { cx: x1, cy: y1, r: Math.hypot(x2 - x1, y2 - y1) });
    } else {
      draw("line", { x1, y1, x2, y2 });
      const end = form.elements.shape.value === "arrow" ? { cx: x2, cy: y2, r: 1.4 } : { cx: x1, cy: y1, r: 3.2 };
      draw("circle", end);
    }
    put("across", from.x);
    put("down", from.y);
    put("to_across", to.x);
    put("to_down", to.y);
  };
  const shapes = () => { form.elements.of.closest(".field").hidden = form.elements.shape.value !== "balloon"; };
  form.elements.shape.addEventListener("change", shapes);
  shapes();

  svg.addEventListener("pointerdown", (touched) => {
    if (touched.button !== 0 || !touched.isPrimary) return;
    touched.preventDefault();
    svg.setPointerCapture(touched.pointerId);
    begun = place(touched);
    show(begun, begun);
  });
  svg.addEventListener("pointermove", (touched) => { if (begun && touched.isPrimary) show(begun, place(touched)); });
  svg.addEventListener("pointerup", (touched) => {
    if (!begun || !touched.isPrimary) return;
    show(begun, place(touched));
    begun = null;
    form.querySelector("button.main").focus({ preventScroll: true });
  });
  svg.addEventListener("pointercancel", () => {
    begun = null;
    sketch.replaceChildren();
  });
  // a balloon already there leads to its part; while one draws, touching it draws
  svg.addEventListener("click", (touched) => touched.preventDefault());
}
