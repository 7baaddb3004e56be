// The row of pages scrolls sideways where it is wider than the page: the open page's link is kept in
// the middle of it and named as the present one. The whole page goes up to the picture when asked.

function pathOf(link) {
  return new URL(link.href, location.href).pathname.split("/").pop();
}

function mark(row, here) {
  row.setAttribute("role", "navigation");
  row.setAttribute("aria-label", "Pages");
  let found = null;
  for (const link of row.querySelectorAll("a")) {
    const current = pathOf(link) === here;
    if (current) found = link;
    if (current !== link.hasAttribute("aria-current")) {
      if (current) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
  }
  return found;
}

function centre(row, link) {
  const [outer, inner] = [row.getBoundingClientRect(), link.getBoundingClientRect()];
  row.scrollLeft += inner.left + inner.width / 2 - outer.left - outer.width / 2;
}

export default function ({ data, parentElement }) {
  const root = parentElement.querySelector(".sight");
  const row = document.querySelector(".st-key-pages");
  if (!row) return undefined;
  const show = () => {
    const link = mark(row, data.here);
    // Once a page, so that whoever scrolls the row afterwards is left alone.
    if (link && root.shown !== data.here && row.clientWidth) {
      root.shown = data.here;
      centre(row, link);
    }
  };
  root.end?.();
  show();
  // Links are drawn anew with a page, before or after this.
  const watch = new MutationObserver(show);
  watch.observe(row, { childList: true, subtree: true });
  // A phone that is turned, or fonts that come late.
  const size = new ResizeObserver(() => {
    root.shown = undefined;
    show();
  });
  size.observe(row);
  if (root.looks !== undefined && root.looks !== data.looks) {
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const main = document.querySelector("[data-testid=stMain]");
    main?.scrollTo({ top: 0, behavior: calm ? "auto" : "smooth" });
  }
  root.looks = data.looks;
  const end = () => {
    watch.disconnect();
    size.disconnect();
  };
  root.end = end;
  return end;
}
