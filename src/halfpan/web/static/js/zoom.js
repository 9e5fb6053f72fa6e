// The picture of a box, closer: a dialog that scrolls, with keys and buttons for nearer and farther.
for (const link of document.querySelectorAll("[data-zoom]")) {
  link.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    open(link);
  });
}

function open(link) {
  const inner = link.querySelector("img");
  const view = document.createElement("dialog");
  view.className = "zoom-view";
  view.setAttribute("aria-label", inner.alt);
  const pane = Object.assign(document.createElement("div"), { className: "pane", tabIndex: 0 });
  const picture = Object.assign(new Image(), { src: link.href, alt: inner.alt });
  pane.append(picture);
  const bar = Object.assign(document.createElement("p"), { className: "btns" });
  let whole = 1; // the scale at which the picture just fills the view
  let scale = 1;
  const set = (next) => {
    scale = Math.min(12 * whole, Math.max(whole / 2, next));
    const middle = [(pane.scrollLeft + pane.clientWidth / 2) / picture.width, (pane.scrollTop + pane.clientHeight / 2) / picture.height];
    picture.width = Math.round(picture.naturalWidth * scale);
    pane.scrollLeft = middle[0] * picture.width - pane.clientWidth / 2;
    pane.scrollTop = middle[1] * picture.height - pane.clientHeight / 2;
  };
  const button = (text, label, act) => {
    const made = Object.assign(document.createElement("button"), { type: "button", className: "btn small", textContent: text });
    made.setAttribute("aria-label", label);
    made.addEventListener("click", act);
    bar.append(made);
  };
  button("+", link.dataset.nearer, () => set(scale * 1.5));
  button("−", link.dataset.farther, () => set(scale / 1.5));
  button(link.dataset.close, link.dataset.close, () => view.close());
  view.append(bar, pane);
  view.addEventListener("keydown", (event) => {
    if (event.key === "+" || event.key === "=") set(scale * 1.5);
    if (event.key === "-") set(scale / 1.5);
  });
  view.addEventListener("close", () => {
    view.remove();
    link.focus();
  });
  document.body.append(view);
  view.showModal();
  const fill = () => {
    whole = Math.min(pane.clientWidth / picture.naturalWidth, pane.clientHeight / picture.naturalHeight);
    set(whole);
  };
  picture.decode().then(fill, () => {});
}
