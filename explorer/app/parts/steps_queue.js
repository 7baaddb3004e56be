// Undo and Redo however fast they are tapped: presses of the page's own two buttons are taken here
// and go into a numbered queue, sent until Python has heard them, so that none is lost.

function taken(event) {
  if (event.type === "click") {
    const button = event.target.closest?.(".st-key-undo button, .st-key-redo button");
    if (!button || button.disabled) return null;
    return button.closest(".st-key-undo") ? "undo" : "redo";
  }
  const typing = event.composedPath()[0].matches?.("input, textarea, [contenteditable=true]");
  const meant = (event.ctrlKey || event.metaKey) && !event.altKey && event.key.toLowerCase() === "z";
  if (typing || !meant) return null;
  return event.shiftKey ? "redo" : "undo";
}

// What was pressed lives with the page and not with what is drawn here, which the framework may make
// anew while presses are under way: none is lost, and no number is given twice.
const kept = (window.danglewiseSteps ||= { queue: [], sent: 0 });

function push(act) {
  const { data, queue } = kept;
  const last = queue.length ? queue[queue.length - 1].n : 0;
  kept.sent = Math.max(last, kept.sent, data.heard) + 1;
  queue.push({ n: kept.sent, epoch: data.epoch, id: act });
  kept.setStateValue("pressed", queue.slice());
}

function heard(event) {
  const act = taken(event);
  if (!act) return;
  // The framework would keep only one of two presses that come before it has answered.
  event.stopPropagation();
  event.preventDefault();
  push(act);
}

export default function (component) {
  const { data, parentElement, setStateValue } = component;
  Object.assign(kept, { data, setStateValue, current: component });
  kept.queue = kept.queue.filter((one) => one.epoch === data.epoch && one.n > data.heard);
  parentElement.querySelector(".queue").dataset.heard = data.heard;
  // Of the window, so that they come before the framework's own; heard once however often added.
  for (const type of ["click", "keydown"]) window.addEventListener(type, heard, true);
  return () => {
    // The framework may end a call after a newer one has taken its place: only the last one tidies.
    if (kept.current !== component) return;
    for (const type of ["click", "keydown"]) window.removeEventListener(type, heard, true);
  };
}
