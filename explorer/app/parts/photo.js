// A photograph with marks on it. A tap says where; with the keys a dashed ring is moved and Enter
// taps. Each tap is numbered, so that two on one spot are two.

const STEP = 0.02;

function dark(hex) {
  const parts = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  return 0.2126 * parts[0] ** 2.2 + 0.7152 * parts[1] ** 2.2 + 0.0722 * parts[2] ** 2.2 < 0.3;
}

function mark(root, { x, y, text, hex, strong, size }) {
  const node = document.createElement("div");
  node.className = `mark ${hex ? "" : "ring"} ${strong ? "strong" : ""}`;
  node.style.left = `${100 * x}%`;
  node.style.top = `${100 * y}%`;
  if (hex) {
    node.style.background = hex;
    node.style.color = dark(hex) ? "#fff" : "#000";
  }
  if (size) {
    node.style.width = `${100 * size}%`;
    node.style.height = "auto";
    node.style.aspectRatio = "1";
  }
  node.textContent = text;
  root.append(node);
}

export default function ({ data, parentElement, setStateValue }) {
  const frame = parentElement.querySelector(".frame");
  const image = parentElement.querySelector("img");
  if (frame.shown !== data.key) {
    frame.shown = data.key;
    image.src = `data:image/jpeg;base64,${data.jpeg}`;
  }
  image.alt = data.alt;
  frame.setAttribute("aria-label", data.alt);
  frame.dataset.taps = String(data.taps);
  const marks = parentElement.querySelector(".marks");
  marks.replaceChildren();
  for (const one of data.marks) mark(marks, one);
  parentElement.querySelector("figcaption").textContent = data.hint;
  if (!data.taps) {
    frame.removeAttribute("tabindex");
    frame.onclick = frame.onkeydown = null;
    return;
  }
  const aim = document.createElement("div");
  aim.className = "aim";
  marks.append(aim);
  const at = (frame.at = frame.at || { x: 0.5, y: 0.5 });
  const place = () => {
    aim.style.left = `${100 * at.x}%`;
    aim.style.top = `${100 * at.y}%`;
  };
  place();
  const tap = (x, y) => {
    frame.count = (frame.count || data.count) + 1;
    setStateValue("tap", { n: frame.count, x, y });
  };
  frame.tabIndex = 0;
  frame.onclick = (event) => {
    const box = image.getBoundingClientRect();
    const x = (event.clientX - box.left) / box.width;
    const y = (event.clientY - box.top) / box.height;
    if (x < 0 || y < 0 || x >= 1 || y >= 1) return;
    Object.assign(at, { x, y });
    tap(x, y);
  };
  frame.onkeydown = (event) => {
    const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const move = moves[event.key];
    const step = event.shiftKey ? STEP / 5 : STEP;
    if (move) {
      at.x = Math.min(0.999, Math.max(0, at.x + step * move[0]));
      at.y = Math.min(0.999, Math.max(0, at.y + step * move[1]));
      place();
    } else if (event.key === "Enter" || event.key === " ") tap(at.x, at.y);
    else return;
    event.preventDefault();
  };
}
