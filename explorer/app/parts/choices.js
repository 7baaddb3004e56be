// Pictures to pick from. Presses go into a numbered queue, sent until Python has heard them: none is
// lost, and none is heard twice.

function element(name, className, text, parent) {
  const node = document.createElement(name);
  if (className) node.className = className;
  if (text) node.textContent = text;
  parent.append(node);
  return node;
}

function build(root, data) {
  root.replaceChildren();
  for (const item of data.items) {
    const button = element("button", "", "", root);
    button.type = "button";
    button.dataset.id = item.id;
    if (item.png) {
      const image = element("img", "", "", button);
      image.alt = "";
      image.src = `data:image/png;base64,${item.png}`;
    }
    element("span", "name", item.label, button);
    if (item.note) element("span", "note", item.note, button);
  }
}

function press(root, id) {
  for (const button of root.querySelectorAll("button")) {
    button.setAttribute("aria-pressed", String(button.dataset.id === id));
  }
}

// The colour that was picked for the picture, until Python has heard it: what is tapped right after
// a pick takes that colour, however busy Python is.
function offer(root, data) {
  const last = root.queue[root.queue.length - 1];
  if (!data.brush) return;
  window.danglewiseBrush = last ? { epoch: last.epoch, value: Number(last.id) } : null;
}

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  const root = parentElement.querySelector(".choices");
  root.setAttribute("aria-label", data.label);
  root.dataset.size = data.size;
  const items = JSON.stringify(data.items);
  if (root.items !== items) {
    root.items = items;
    build(root, data);
  }
  root.queue = (root.queue || []).filter((one) => one.epoch === data.epoch && one.n > data.heard);
  const last = root.queue[root.queue.length - 1];
  press(root, last ? last.id : data.chosen);
  offer(root, data);
  root.dataset.heard = data.heard;
  root.onclick = (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    press(root, button.dataset.id);
    const before = root.queue[root.queue.length - 1];
    root.last = Math.max(before ? before.n : 0, root.epoch === data.epoch ? root.last || 0 : 0, data.heard) + 1;
    root.epoch = data.epoch;
    root.queue.push({ n: root.last, epoch: data.epoch, id: button.dataset.id });
    offer(root, data);
    setStateValue("chosen", root.queue.slice());
  };
  // The framework may end a call after a newer one has taken its place: only the last one tidies.
  root.current = component;
  return () => {
    if (data.brush && root.current === component) window.danglewiseBrush = null;
  };
}
