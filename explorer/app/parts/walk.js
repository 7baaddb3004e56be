// Back and on. What is sent is the place that is wanted, so that fast taps add up and none is lost.

function typing(event) {
  const target = event.composedPath()[0];
  return target instanceof HTMLElement && target.matches("input, textarea, select, [role=radio], [role=slider]");
}

function go(root, by) {
  const want = Math.min(Math.max(root.want + by, 0), root.data.count - 1);
  if (want === root.want) return;
  root.want = want;
  root.sent += 1;
  show(root);
  root.setStateValue("wanted", { n: root.sent, epoch: root.data.epoch, place: want });
}

function show(root) {
  root.querySelector(".back").disabled = root.want === 0;
  root.querySelector(".next").disabled = root.want === root.data.count - 1;
}

export default function ({ data, parentElement, setStateValue }) {
  const root = parentElement.querySelector(".walk");
  root.data = data;
  root.setStateValue = setStateValue;
  root.dataset.place = data.place;
  // Only what Python has seen may move the place; later taps are still on their way.
  if (root.sent === undefined || root.epoch !== data.epoch || data.done >= root.sent) {
    root.want = data.place;
    root.sent = Math.max(data.done, root.epoch === data.epoch ? root.sent || 0 : 0);
  }
  root.epoch = data.epoch;
  root.querySelector(".back").onclick = () => go(root, -1);
  root.querySelector(".next").onclick = () => go(root, 1);
  show(root);
  const onKey = (event) => {
    if (typing(event) || event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "ArrowLeft") go(root, -1);
    else if (event.key === "ArrowRight") go(root, 1);
  };
  if (root.onKey) document.removeEventListener("keydown", root.onKey);
  root.onKey = onKey;
  document.addEventListener("keydown", onKey);
  // Its own, not that of a newer call which the framework may have made before it ends this one.
  return () => document.removeEventListener("keydown", onKey);
}
