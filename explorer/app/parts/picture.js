// The piece on the table. Python sends the picture and what can be pointed at; this file turns
// pointer and keys into numbered events, paints at once what was asked for, and leaves the rest to
// Python. It runs again at every change of data, so everything it does can be done twice.

const SVG = "http://www.w3.org/2000/svg";
// Narrower than this, the piece lies in a loop: 220 mm on 640 px would be under 3 px a mm.
const NARROW_PX = 640;
// A finger covers about this much: the nearest bead within it is the one that was meant.
const FINGER_PX = 22;

function make(name, attributes, parent) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  parent.append(node);
  return node;
}

function beadShape(bead, parent) {
  const [x, y, across, along, turn] = bead;
  return make(
    "ellipse",
    { cx: x, cy: y, rx: across, ry: along, transform: `rotate(${turn} ${x} ${y})` },
    parent,
  );
}

function reportView(memory, root, setStateValue) {
  const width = Math.round(root.clientWidth);
  if (!width) return;
  const layout = width < NARROW_PX ? "loop" : "strip";
  const sharp = Math.min(window.devicePixelRatio || 1, 2);
  // In steps, so that a scroll bar that comes and goes draws nothing anew.
  const px = Math.ceil((width * sharp) / 200) * 200;
  memory.layout = layout;
  // A session that began anew behind an open page has not heard it yet.
  const decimal = (1.5).toLocaleString().includes(",") ? "comma" : "point";
  const said = `${memory.data.epoch} ${layout} ${px}`;
  if (memory.said === said) return;
  memory.said = said;
  setStateValue("view", { layout, px, decimal });
}

// What was done lives with the page and not with what is drawn here, which the framework may make
// anew while it is under way: nothing is lost, and no number is given twice.
const kept = (window.danglewiseTaps ||= { queue: [], sent: 0 });

function mount(parentElement) {
  const root = parentElement.querySelector(".table");
  const memory = {
    root,
    image: root.querySelector("img"),
    svg: root.querySelector("svg"),
    tip: root.querySelector(".tip"),
    steps: root.querySelector(".steps"),
    at: null,
    drag: null,
  };
  root.memory = memory;
  return memory;
}

function svgPoint(memory, event) {
  const box = memory.svg.getBoundingClientRect();
  const [left, top, width, height] = memory.data.box;
  return [
    left + ((event.clientX - box.left) / box.width) * width,
    top + ((event.clientY - box.top) / box.height) * height,
    width / box.width,
  ];
}

function nearest(memory, event) {
  const [x, y, mmPerPx] = svgPoint(memory, event);
  let best = null;
  let least = Infinity;
  for (const area of memory.data.areas) {
    for (const [bx, by, across, along] of area.beads) {
      const away = Math.hypot(bx - x, by - y) - Math.min(across, along);
      if (away < least) [best, least] = [area, away];
    }
  }
  return least <= FINGER_PX * mmPerPx ? best : null;
}

function say(memory, area) {
  memory.tip.textContent = area ? area.label : memory.data.hint;
}

// What stands there while nothing is pointed at: the hint speaks of what is chosen, if that is so.
function sayLasting(memory) {
  say(memory, memory.data.chosen ? null : memory.byId.get(memory.at));
}

function showAt(memory, id) {
  memory.at = id;
  for (const node of memory.svg.querySelectorAll("[data-id]")) {
    node.classList.toggle("at", !memory.data.chosen && node.dataset.id === id);
  }
}

// Where a page has one area chosen at any time, that is the one with the ring, and no other.
function showChosen(memory, id) {
  for (const node of memory.svg.querySelectorAll("[data-id]")) {
    node.classList.toggle("chosen", node.dataset.id === id);
  }
}

function push(memory, area, act, value) {
  const { data } = memory;
  const last = kept.queue.length ? kept.queue[kept.queue.length - 1].n : 0;
  const n = Math.max(last, kept.sent, data.done) + 1;
  kept.sent = n;
  kept.queue.push({ n, epoch: data.epoch, act, id: area.id, value });
  paintPending(memory);
  memory.setStateValue("events", kept.queue.slice());
}

function paintPending(memory) {
  for (const node of memory.svg.querySelectorAll(".wet")) node.remove();
  for (const event of kept.queue) {
    if (event.act !== "paint" && event.act !== "base") continue;
    const node = memory.svg.querySelector(`[data-id="${event.id}"]`);
    const area = memory.byId.get(event.id);
    const colour = memory.data.brushes[event.value];
    if (!node || !area || !colour) continue;
    const wet = make("g", { class: "wet", fill: colour }, node);
    for (const bead of area.beads) beadShape(bead, wet);
  }
}

// A colour picked a moment ago counts, though Python has not heard of it yet.
function brush({ data }) {
  const picked = window.danglewiseBrush;
  const known = picked?.epoch === data.epoch && picked.value < data.brushes.length;
  return known ? picked.value : data.brush;
}

function act(memory, area) {
  if (!area || !memory.data.act) return;
  showAt(memory, area.id);
  say(memory, area);
  if (memory.data.chosen) {
    showChosen(memory, area.id);
    // What it will be like, and what to do next, Python says in a moment.
    memory.tip.textContent = area.label.split(":")[0];
  }
  if (["paint", "base", "pick"].includes(memory.data.act)) {
    push(memory, area, memory.data.act, brush(memory));
  }
}

// An area that was tapped and that Python has not heard of yet.
function lastTouched({ byId }) {
  const last = kept.queue[kept.queue.length - 1];
  return last && byId.has(last.id) ? last.id : null;
}

function pendingLength(memory, area) {
  let length = area.length;
  for (const event of kept.queue) {
    if (event.act === "length" && event.id === area.id) length = event.value;
  }
  return length;
}

function step(memory, area, by) {
  if (!area || memory.data.act !== "length") return;
  const length = Math.min(Math.max(pendingLength(memory, area) + by, 1), memory.data.most);
  memory.tip.textContent = `${area.label.split(":")[0]}: ${length} ${length === 1 ? "bead" : "beads"}`;
  if (length !== pendingLength(memory, area)) push(memory, area, "length", length);
}

function onKey(memory, event) {
  const ids = memory.data.areas.map((area) => area.id);
  const now = Math.max(ids.indexOf(memory.at), 0);
  const moves = { ArrowLeft: now - 1, ArrowRight: now + 1, Home: 0, End: ids.length - 1 };
  if (event.key in moves) {
    event.preventDefault();
    const id = ids[Math.min(Math.max(moves[event.key], 0), ids.length - 1)];
    showAt(memory, id);
    rove(memory);
    memory.svg.querySelector(`[data-id="${id}"]`).focus();
    return;
  }
  const area = memory.byId.get(ids[now]);
  if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    act(memory, area);
  } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
    if (memory.data.act !== "length") return;
    event.preventDefault();
    step(memory, area, event.key === "ArrowDown" ? 1 : -1);
  }
}

// One stop for the Tab key; arrow keys go on from there.
function rove(memory) {
  const first = memory.byId.has(memory.at) ? memory.at : memory.data.areas[0]?.id;
  for (const node of memory.svg.querySelectorAll("[data-id]")) {
    node.setAttribute("tabindex", memory.data.act && node.dataset.id === first ? "0" : "-1");
  }
}

// Everything but the beads in question is veiled.
function light(memory) {
  const { data, svg } = memory;
  if (!data.lit.length) return;
  const [x, y, width, height] = data.box;
  const frame = { x, y, width, height };
  const mask = make("mask", { id: "veil", maskUnits: "userSpaceOnUse", ...frame }, svg);
  make("rect", { ...frame, fill: "white" }, mask);
  for (const bead of data.lit) beadShape(bead, mask).setAttribute("fill", "black");
  make("rect", { ...frame, class: "veil", mask: "url(#veil)" }, svg);
  for (const bead of data.lit) beadShape(bead, svg).classList.add("lit");
}

function drawAreas(memory) {
  const { data, svg } = memory;
  const focused = svg.getRootNode().activeElement?.dataset?.id;
  svg.setAttribute("viewBox", data.box.join(" "));
  svg.setAttribute("aria-label", data.alt);
  svg.replaceChildren();
  memory.byId = new Map(data.areas.map((area) => [area.id, area]));
  for (const area of data.areas) {
    const node = make("g", { "data-id": area.id, "aria-label": area.label }, svg);
    node.setAttribute("role", data.act ? "button" : "img");
    const points = area.outline.join(" ");
    make("polygon", { class: "edge", points }, node);
    make("polygon", { class: "outline", points }, node);
    node.onfocus = () => {
      showAt(memory, area.id);
      say(memory, area);
    };
  }
  light(memory);
  for (const id of data.marked) {
    svg.querySelector(`[data-id="${id}"]`)?.classList.add("marked");
  }
  showAt(memory, memory.byId.has(memory.at) ? memory.at : data.chosen || null);
  if (data.chosen) showChosen(memory, lastTouched(memory) || data.chosen);
  rove(memory);
  paintPending(memory);
  if (focused) svg.querySelector(`[data-id="${focused}"]`)?.focus({ preventScroll: true });
}

function listen(memory) {
  const { svg } = memory;
  svg.onpointermove = (event) => {
    if (memory.drag) {
      dragTo(memory, event);
    } else if (event.pointerType === "mouse") {
      const area = nearest(memory, event);
      for (const node of svg.querySelectorAll("[data-id]")) {
        node.classList.toggle("over", node.dataset.id === area?.id);
      }
      say(memory, area);
    }
  };
  svg.onpointerleave = () => {
    for (const node of svg.querySelectorAll(".over")) node.classList.remove("over");
    if (!memory.drag) sayLasting(memory);
  };
  svg.onpointerdown = (event) => {
    const area = memory.data.act === "length" && nearest(memory, event);
    if (!area) return;
    showAt(memory, area.id);
    const beads = area.beads;
    const [first, last] = [beads[0], beads[beads.length - 1]];
    const [cx, cy] = memory.data.middle || [first[0], first[1] - 1000];
    const away = Math.hypot(first[0] - cx, first[1] - cy);
    memory.drag = {
      area,
      from: svgPoint(memory, event),
      along: [(first[0] - cx) / away, (first[1] - cy) / away],
      pitch: beads.length > 1 ? Math.hypot(last[0] - first[0], last[1] - first[1]) / (beads.length - 1) : 2,
      start: pendingLength(memory, area),
      by: 0,
    };
    svg.setPointerCapture(event.pointerId);
  };
  svg.onpointerup = (event) => {
    const { drag } = memory;
    memory.drag = null;
    if (drag) {
      if (drag.by) step(memory, drag.area, drag.by);
      else say(memory, drag.area);
    } else if (event.button === 0) {
      act(memory, nearest(memory, event));
    }
  };
  svg.onpointercancel = () => {
    memory.drag = null;
  };
  // A screen reader's press has no place of its own.
  svg.onclick = (event) => {
    const id = event.target.closest("[data-id]")?.dataset.id;
    if (event.detail === 0 && id) act(memory, memory.byId.get(id));
  };
  svg.onkeydown = (event) => onKey(memory, event);
  const [shorter, longer] = memory.steps.querySelectorAll("button");
  shorter.onclick = () => step(memory, memory.byId.get(memory.at), -1);
  longer.onclick = () => step(memory, memory.byId.get(memory.at), 1);
}

function dragTo(memory, event) {
  const { drag } = memory;
  const [x, y] = svgPoint(memory, event);
  const far = (x - drag.from[0]) * drag.along[0] + (y - drag.from[1]) * drag.along[1];
  drag.by = Math.round(far / drag.pitch);
  const length = Math.min(Math.max(drag.start + drag.by, 1), memory.data.most);
  memory.tip.textContent = `${length} ${length === 1 ? "bead" : "beads"}`;
}

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const root = parentElement.querySelector(".table");
  const memory = root.memory || mount(parentElement);
  memory.setStateValue = setStateValue;
  memory.data = data;
  kept.queue = kept.queue.filter((event) => event.epoch === data.epoch && event.n > data.done);
  reportView(memory, root, setStateValue);
  // What was drawn for another width waits unseen, in a place like that of the one that fits.
  const fits = data.layout === memory.layout;
  root.classList.toggle("waiting", !fits);
  root.dataset.layout = memory.layout || data.layout;
  root.dataset.act = data.act;
  root.dataset.done = data.done;
  root.classList.toggle("chooses", Boolean(data.chosen));
  if (fits) root.style.setProperty("--aspect", `${data.box[2]} / ${data.box[3]}`);
  if (memory.shown !== data.key) {
    memory.shown = data.key;
    memory.image.src = `data:image/png;base64,${data.png}`;
  }
  memory.steps.hidden = data.act !== "length";
  drawAreas(memory);
  listen(memory);
  sayLasting(memory);
  if (!memory.watcher) {
    memory.watcher = new ResizeObserver(() => {
      clearTimeout(memory.timer);
      memory.timer = setTimeout(() => reportView(memory, root, memory.setStateValue), 150);
    });
    memory.watcher.observe(root);
  }
  // The framework may end a call after a newer one has taken its place: only the last one tidies.
  memory.current = component;
  return () => {
    if (memory.current !== component) return;
    memory.watcher?.disconnect();
    memory.watcher = null;
  };
}
