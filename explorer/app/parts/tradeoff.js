// Proposals over two scores. Python says where each mark stands; this file draws them at the width
// there is, moves marks that would hide each other aside, and tells Python which one was picked.

const SVG = "http://www.w3.org/2000/svg";
const LEFT = 46;
const RIGHT = 18;
const TOP = 26;
const BOTTOM = 48;
const RADIUS = 13;
// A finger covers about this much.
const FINGER = 22;

function make(name, attributes, parent, text) {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  if (text !== undefined) node.textContent = text;
  parent.append(node);
  return node;
}

// The nearest free place on rings round the true one, so that no mark hides another.
function aside(x, y, taken, width, height) {
  const inside = (px, py) =>
    px >= LEFT && px <= width - RIGHT && py >= TOP && py <= height - BOTTOM;
  const free = (px, py) =>
    inside(px, py) && taken.every(([tx, ty]) => Math.hypot(px - tx, py - ty) >= 2 * RADIUS);
  if (free(x, y)) return [x, y];
  for (let ring = 1; ring < 8; ring += 1) {
    for (let corner = 0; corner < 12; corner += 1) {
      const turn = (corner / 12) * 2 * Math.PI;
      const [px, py] = [
        x + ring * RADIUS * Math.cos(turn),
        y + ring * RADIUS * Math.sin(turn),
      ];
      if (free(px, py)) return [px, py];
    }
  }
  return [x, y];
}

function axes(svg, data, width, height) {
  const [inner, tall] = [width - LEFT - RIGHT, height - TOP - BOTTOM];
  for (const [share, text] of data.ticks[0]) {
    const x = LEFT + share * inner;
    make("line", { class: "grid", x1: x, x2: x, y1: TOP, y2: height - BOTTOM }, svg);
    make(
      "text",
      { class: "axis", x, y: height - BOTTOM + 20, "text-anchor": "middle" },
      svg,
      text,
    );
  }
  for (const [share, text] of data.ticks[1]) {
    const y = TOP + (1 - share) * tall;
    make("line", { class: "grid", x1: LEFT, x2: width - RIGHT, y1: y, y2: y }, svg);
    make("text", { class: "axis", x: LEFT - 8, y: y + 5, "text-anchor": "end" }, svg, text);
  }
  make(
    "text",
    { class: "axis", x: width - RIGHT, y: height - 6, "text-anchor": "end" },
    svg,
    `${data.names[0]} →`,
  );
  make("text", { class: "axis", x: 0, y: 12 }, svg, `↑ ${data.names[1]}`);
}

function shape(mark, x, y, parent) {
  if (!mark.unbeaten) {
    make("circle", { class: "shape", cx: x, cy: y, r: RADIUS - 1 }, parent);
    return;
  }
  const r = RADIUS + 2;
  const points = [x, y - r, x + r, y, x, y + r, x - r, y].join(" ");
  make("polygon", { class: "shape", points }, parent);
}

function draw(memory) {
  const { svg, data, root } = memory;
  const width = Math.round(root.clientWidth);
  if (!width) return;
  const height = Math.round(Math.min(380, Math.max(260, width * 0.6)));
  // A press on what is taken out of the page before it is let go is lost: only what is new is drawn.
  const drawn = JSON.stringify([width, { ...data, chosen: 0, count: 0 }]);
  if (drawn === memory.drawn) {
    press(memory);
    return;
  }
  memory.drawn = drawn;
  const focused = svg.getRootNode().activeElement?.dataset?.place;
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  svg.setAttribute("height", height);
  svg.setAttribute("aria-label", data.label);
  svg.replaceChildren();
  axes(svg, data, width, height);
  const [inner, tall] = [width - LEFT - RIGHT, height - TOP - BOTTOM];
  const taken = [];
  // Those that nothing beats keep their places; the others make room.
  const inTurn = [...data.marks].sort((a, b) => b.unbeaten - a.unbeaten || a.across - b.across);
  const placed = inTurn.map((mark) => {
    const at = aside(LEFT + mark.across * inner, TOP + (1 - mark.up) * tall, taken, width, height);
    taken.push(at);
    return [mark, at];
  });
  const edge = placed.filter(([mark]) => mark.unbeaten).map(([, at]) => at.join(","));
  make("polyline", { class: "edge", points: edge.join(" ") }, svg);
  memory.placed = placed.map(([mark, at]) => [mark.place, ...at]);
  for (const [mark, [x, y]] of placed.reverse()) one(memory, mark, x, y);
  rove(memory);
  if (focused !== undefined) node(memory, focused)?.focus({ preventScroll: true });
}

function one(memory, mark, x, y) {
  const group = make(
    "g",
    {
      "data-place": mark.place,
      role: "button",
      "aria-label": mark.label,
      "aria-pressed": mark.place === memory.data.chosen,
    },
    memory.svg,
  );
  if (mark.unbeaten) group.classList.add("unbeaten");
  make("circle", { class: "ring", cx: x, cy: y, r: RADIUS + 5 }, group);
  shape(mark, x, y, group);
  make("text", { x, y }, group, mark.place + 1);
  group.onfocus = () => say(memory, mark.place);
}

function node(memory, place) {
  return memory.svg.querySelector(`[data-place="${place}"]`);
}

// Marks may lie closer than a finger is wide: the nearest one was meant.
function nearest(memory, event) {
  const box = memory.svg.getBoundingClientRect();
  let [best, least] = [null, FINGER];
  for (const [place, x, y] of memory.placed) {
    const away = Math.hypot(x - (event.clientX - box.left), y - (event.clientY - box.top));
    if (away <= least) [best, least] = [place, away];
  }
  return best;
}

function listen(memory) {
  const { svg } = memory;
  svg.onclick = (event) => {
    // A screen reader's press has no place of its own.
    const named = event.detail === 0 && event.target.closest("[data-place]");
    const place = named ? Number(named.dataset.place) : nearest(memory, event);
    if (place !== null) pick(memory, place);
  };
  svg.onpointermove = (event) => {
    const over = nearest(memory, event);
    for (const group of svg.querySelectorAll("[data-place]")) {
      group.classList.toggle("over", Number(group.dataset.place) === over);
    }
    say(memory, over ?? memory.data.chosen);
  };
  svg.onpointerleave = () => {
    for (const group of svg.querySelectorAll(".over")) group.classList.remove("over");
    say(memory, memory.data.chosen);
  };
  svg.onkeydown = (event) => onKey(memory, event);
}

function say(memory, place) {
  memory.tip.textContent = memory.data.marks.find((mark) => mark.place === place)?.label || "";
}

// Show which mark is chosen.
function press(memory) {
  for (const group of memory.svg.querySelectorAll("[data-place]")) {
    const chosen = Number(group.dataset.place) === memory.data.chosen;
    group.setAttribute("aria-pressed", String(chosen));
  }
  rove(memory);
}

function pick(memory, place) {
  memory.data.chosen = place;
  press(memory);
  say(memory, place);
  memory.count = (memory.count || memory.data.count) + 1;
  memory.setStateValue("chosen", { n: memory.count, place });
}

// One stop for the Tab key; arrow keys go on from there, from left to right.
function rove(memory) {
  const places = memory.data.marks.map((mark) => mark.place);
  const stop = places.includes(memory.data.chosen) ? memory.data.chosen : places[0];
  for (const group of memory.svg.querySelectorAll("[data-place]")) {
    group.setAttribute("tabindex", Number(group.dataset.place) === stop ? "0" : "-1");
  }
}

function onKey(memory, event) {
  const place = Number(event.target.closest?.("[data-place]")?.dataset.place);
  const order = [...memory.data.marks]
    .sort((a, b) => a.across - b.across || a.up - b.up)
    .map((mark) => mark.place);
  const now = order.indexOf(place);
  if (now < 0) return;
  const moves = {
    ArrowLeft: now - 1,
    ArrowDown: now - 1,
    ArrowRight: now + 1,
    ArrowUp: now + 1,
    Home: 0,
    End: order.length - 1,
  };
  if (event.key in moves) {
    event.preventDefault();
    const to = order[Math.min(Math.max(moves[event.key], 0), order.length - 1)];
    node(memory, to).focus();
  } else if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    pick(memory, place);
  }
}

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const root = parentElement.querySelector(".field");
  const memory = root.memory || {
    root,
    svg: root.querySelector("svg"),
    tip: root.querySelector(".tip"),
  };
  root.memory = memory;
  memory.data = data;
  memory.setStateValue = setStateValue;
  draw(memory);
  say(memory, data.chosen);
  listen(memory);
  if (!memory.watcher) {
    memory.watcher = new ResizeObserver(() => draw(memory));
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
