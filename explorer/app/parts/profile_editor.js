// One motif's dangles as bars to drag or step. Beads are painted here at once; every change goes to
// Python as a numbered event, and what Python has done comes back. It runs again at every change of
// data, so everything it does can be done twice.

const SVG = "http://www.w3.org/2000/svg";
// The stage's height and the room for grip and number below the longest bar, in px.
const TALL_PX = 340;
const FOOT_PX = 36;
const EDGE_PX = 12;
// Below this a lane is too narrow for a number of its own.
const NUMBER_PX = 20;
// Bars can grow so many beads before the stage must be drawn smaller.
const ROOM_BEADS = 3;
const LEAST_ROWS = 7;

function make(name, attributes, parent) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  parent.append(node);
  return node;
}

function beads(count) {
  return count === 1 ? "1 bead" : `${count} beads`;
}


// Lengths as they will be once Python has done what is still waiting.
function shown(memory) {
  const lengths = memory.data.lengths.slice();
  for (const event of kept.queue) {
    if (event.target !== memory.data.target) continue;
    lengths[event.place] = event.value;
    if (event.mirror) lengths[lengths.length - 1 - event.place] = event.value;
  }
  return lengths;
}

// Tenths, with the point or the comma that the maker writes.
function told(memory, value) {
  return value.toFixed(1).replace(".", memory.data.decimal);
}

function drop(memory, count) {
  const { bead, tip } = memory.data;
  return (count - 1) * bead.along + tip.across;
}

function measure(memory) {
  const { data } = memory;
  const rows = Math.max(LEAST_ROWS, ...shown(memory)) + ROOM_BEADS;
  // A stage that shrinks under a finger would pull the bar away from it.
  if (!memory.drag || rows - ROOM_BEADS > memory.rows) memory.rows = rows;
  const wide = memory.root.clientWidth;
  const scale = Math.min(
    (wide - 2 * EDGE_PX) / (data.pitch * data.lengths.length),
    (TALL_PX - FOOT_PX - EDGE_PX) / (data.base + memory.rows * data.bead.along),
  );
  memory.scale = scale;
  memory.lane = Math.min(scale * data.pitch, (wide - 2 * EDGE_PX) / data.lengths.length);
  memory.left = (wide - memory.lane * data.lengths.length) / 2;
  memory.wide = wide;
  memory.tall = EDGE_PX + scale * (data.base + memory.rows * data.bead.along) + FOOT_PX;
}

function drawBead(parent, x, y, across, along, hex) {
  const at = { x: x - across / 2, y, width: across, height: along };
  const round = { rx: Math.min(across, along) * 0.42 };
  make("rect", { ...at, ...round, fill: hex }, parent);
  make("rect", { ...at, ...round, class: "shade" }, parent);
  make(
    "ellipse",
    { cx: x - across * 0.2, cy: y + along * 0.28, rx: across * 0.13, ry: along * 0.1, class: "gleam" },
    parent,
  );
}

// A drop hangs by its narrow end.
function drawDrop(parent, x, y, across, hex) {
  const half = across / 2;
  const d =
    `M ${x} ${y} C ${x + half * 0.5} ${y + half * 0.5} ${x + half} ${y + half * 0.8} ${x + half} ${y + half * 1.3}` +
    ` A ${half} ${half * 0.7} 0 0 1 ${x - half} ${y + half * 1.3}` +
    ` C ${x - half} ${y + half * 0.8} ${x - half * 0.5} ${y + half * 0.5} ${x} ${y} Z`;
  make("path", { d, fill: hex }, parent);
  make("path", { d, class: "shade" }, parent);
  make("ellipse", { cx: x - half * 0.35, cy: y + half * 1.1, rx: half * 0.22, ry: half * 0.26, class: "gleam" }, parent);
}

// The turning bead lies on its side and shows its hole.
function drawTip(parent, x, y, across, hex, background) {
  const middle = { cx: x, cy: y + across / 2 };
  make("circle", { ...middle, r: across / 2, fill: hex }, parent);
  make("circle", { ...middle, r: across / 2, class: "shade" }, parent);
  make("circle", { ...middle, r: across * 0.18, style: `fill: ${background}` }, parent);
}

function drawBar(memory, place, length) {
  const { data, scale, lane } = memory;
  const node = make("g", { "data-place": place, role: "slider", "aria-orientation": "vertical" }, memory.svg);
  const middle = memory.left + (place + 0.5) * lane;
  make("rect", { x: middle - lane / 2, y: 1, width: lane, height: memory.tall - 2, class: "lane", rx: 4 }, node);
  const top = EDGE_PX;
  const side = data.basePitch * scale;
  const base = { x: middle - side / 2, y: top, width: side, height: data.base * scale, rx: data.square ? 2 : side * 0.3 };
  make("rect", { ...base, fill: data.baseHex }, node);
  make("rect", { ...base, class: "shade" }, node);
  let y = top + data.base * scale;
  for (let row = 0; row < length - 1; row += 1) {
    drawBead(node, middle, y, data.bead.across * scale, data.bead.along * scale, data.bead.hex);
    y += data.bead.along * scale;
  }
  const across = data.tip.across * scale;
  if (data.hangs) drawDrop(node, middle, y, across, data.tip.hex);
  else drawTip(node, middle, y, across, data.tip.hex, "var(--st-secondary-background-color)");
  y += data.tip.across * scale;
  const half = Math.min(lane * 0.26, 9);
  make("line", { x1: middle - half, x2: middle + half, y1: y + 7, y2: y + 7, class: "grip" }, node);
  if (lane >= NUMBER_PX) make("text", { x: middle, y: y + 27 }, node).textContent = length;
  node.setAttribute("aria-label", `Dangle ${place + 1} of ${data.lengths.length}`);
  node.setAttribute("aria-valuemin", 1);
  node.setAttribute("aria-valuemax", data.most);
  node.setAttribute("aria-valuenow", length);
  node.setAttribute("aria-valuetext", `${beads(length)}, hangs ${told(memory, drop(memory, length))} mm`);
}

function draw(memory) {
  const { svg, root } = memory;
  if (!root.clientWidth) return;
  const focused = svg.getRootNode().activeElement?.dataset?.place;
  measure(memory);
  svg.setAttribute("height", Math.round(memory.tall));
  svg.setAttribute("viewBox", `0 0 ${memory.wide} ${Math.round(memory.tall)}`);
  svg.setAttribute("aria-label", memory.data.label);
  svg.replaceChildren();
  shown(memory).forEach((length, place) => drawBar(memory, place, length));
  mark(memory);
  if (focused !== undefined) svg.querySelector(`[data-place="${focused}"]`)?.focus();
}

// One stop for the Tab key; arrow keys go on from there.
function mark(memory) {
  const count = memory.data.lengths.length;
  if (memory.at >= count) memory.at = 0;
  for (const node of memory.svg.querySelectorAll("[data-place]")) {
    const place = Number(node.dataset.place);
    node.classList.toggle("at", place === memory.at);
    node.setAttribute("tabindex", place === (memory.at ?? 0) ? "0" : "-1");
  }
}

function say(memory) {
  const place = memory.over ?? memory.at;
  const length = shown(memory)[place];
  memory.tip.textContent =
    length === undefined
      ? memory.data.hint
      : `Dangle ${place + 1}: ${beads(length)}, hangs ${told(memory, drop(memory, length))} mm`;
}

function push(memory, place, value, stroke) {
  const { data } = memory;
  const last = kept.queue.length ? kept.queue[kept.queue.length - 1].n : 0;
  const n = Math.max(last, kept.sent, data.done) + 1;
  kept.sent = n;
  const { epoch, target, mirror } = data;
  kept.queue.push({ n, epoch, target, place, value, mirror, stroke: stroke ?? n });
  memory.root.dataset.waiting = kept.queue.length;
  memory.setStateValue("events", kept.queue.slice());
}

function set(memory, place, wanted, stroke) {
  const value = Math.min(Math.max(wanted, 1), memory.data.most);
  if (value !== shown(memory)[place]) push(memory, place, value, stroke);
  draw(memory);
  say(memory);
}

function go(memory, place) {
  memory.at = Math.min(Math.max(place, 0), memory.data.lengths.length - 1);
  mark(memory);
  say(memory);
}

function onKey(memory, event) {
  const now = memory.at ?? 0;
  const length = shown(memory)[now];
  const walks = { ArrowLeft: now - 1, ArrowRight: now + 1, Home: 0, End: Infinity };
  const steps = { ArrowDown: 1, "+": 1, ArrowUp: -1, "-": -1, PageDown: 3, PageUp: -3 };
  if (event.key in walks) {
    event.preventDefault();
    go(memory, walks[event.key]);
    memory.svg.querySelector(`[data-place="${memory.at}"]`).focus();
  } else if (event.key in steps) {
    event.preventDefault();
    memory.at = now;
    set(memory, now, length + steps[event.key]);
  }
}

function placeAt(memory, event) {
  const box = memory.svg.getBoundingClientRect();
  const place = Math.floor((event.clientX - box.left - memory.left) / memory.lane);
  return place >= 0 && place < memory.data.lengths.length ? place : null;
}

function listen(memory) {
  const { svg } = memory;
  svg.onpointerdown = (event) => {
    const place = placeAt(memory, event);
    if (place === null || event.button !== 0) return;
    event.preventDefault();
    go(memory, place);
    svg.querySelector(`[data-place="${place}"]`).focus({ preventScroll: true });
    memory.stroke = Math.max(memory.stroke || 0, kept.sent, memory.data.done) + 1;
    memory.drag = { place, from: event.clientY, start: shown(memory)[place] };
    svg.setPointerCapture(event.pointerId);
  };
  svg.onpointermove = (event) => {
    const { drag } = memory;
    if (drag) {
      const by = Math.round((event.clientY - drag.from) / (memory.data.bead.along * memory.scale));
      set(memory, drag.place, drag.start + by, memory.stroke);
    } else if (event.pointerType === "mouse") {
      hover(memory, placeAt(memory, event));
    }
  };
  svg.onpointerup = svg.onpointercancel = () => {
    memory.drag = null;
    draw(memory);
  };
  svg.onpointerleave = () => hover(memory, null);
  svg.onkeydown = (event) => onKey(memory, event);
  const [shorter, longer] = memory.root.querySelectorAll("button");
  const step = (by) => {
    memory.at = memory.at ?? 0;
    set(memory, memory.at, shown(memory)[memory.at] + by);
  };
  shorter.onclick = () => step(-1);
  longer.onclick = () => step(1);
}

function hover(memory, place) {
  memory.over = place ?? undefined;
  for (const node of memory.svg.querySelectorAll("[data-place]")) {
    node.classList.toggle("over", Number(node.dataset.place) === place);
  }
  say(memory);
}

// What was done lives with the page and not with what is drawn here, which the framework may make
// anew while it is under way: nothing is lost, and no number is given twice.
const kept = (window.danglewiseBars ||= { queue: [], sent: 0 });

function mount(parentElement) {
  const root = parentElement.querySelector(".profile");
  const memory = {
    root,
    svg: root.querySelector("svg"),
    tip: root.querySelector(".tip"),
    drag: null,
  };
  root.memory = memory;
  return memory;
}

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const memory = parentElement.querySelector(".profile").memory || mount(parentElement);
  memory.setStateValue = setStateValue;
  if (memory.data && memory.data.target !== data.target) memory.at = undefined;
  memory.data = data;
  kept.queue = kept.queue.filter((event) => event.epoch === data.epoch && event.n > data.done);
  memory.root.dataset.waiting = kept.queue.length;
  draw(memory);
  listen(memory);
  say(memory);
  if (!memory.watcher) {
    memory.watcher = new ResizeObserver(() => {
      if (memory.root.clientWidth !== memory.wide) draw(memory);
    });
    memory.watcher.observe(memory.root);
  }
  // The framework may end a call after a newer one has taken its place: only the last one tidies.
  memory.current = component;
  return () => {
    if (memory.current !== component) return;
    memory.watcher?.disconnect();
    memory.watcher = null;
  };
}
