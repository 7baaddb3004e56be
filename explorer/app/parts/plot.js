// A plain drawing of dots, lines and rings that Python has placed.

const SVG = "http://www.w3.org/2000/svg";

function make(name, attributes, parent, text) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  if (text) node.textContent = text;
  parent.append(node);
  return node;
}

export default function ({ data, parentElement }) {
  const svg = parentElement.querySelector(".plot");
  svg.replaceChildren();
  svg.setAttribute("viewBox", `0 0 ${data.width} ${data.height}`);
  svg.setAttribute("aria-label", data.label);
  svg.style.setProperty("--most", data.most);
  for (const [x1, y1, x2, y2] of data.lines) make("line", { x1, y1, x2, y2 }, svg);
  for (const [cx, cy, r] of data.rings) make("circle", { class: "ring", cx, cy, r }, svg);
  for (const [x, y, anchor, words] of data.texts) {
    make("text", { x, y, "text-anchor": anchor }, svg, words);
  }
  for (const dot of data.dots) {
    const kind = `${dot.hex ? "bead" : ""} ${dot.strong ? "strong" : ""}`.trim();
    const group = make("g", { class: kind }, svg);
    make("title", {}, group, dot.label);
    const circle = make("circle", { class: "dot", cx: dot.x, cy: dot.y, r: dot.r }, group);
    if (dot.hex) circle.style.fill = dot.hex;
    if (dot.text) make("text", { x: dot.x, y: dot.y + 5, "text-anchor": "middle" }, group, dot.text);
  }
}
