// In a notebook: each move asks Python, one question at a time; the newest waits until the last is answered.
function render({ model, el }) {
  const root = document.createElement("div");
  root.className = "loamline-explore";
  el.append(root);
  let asked = 0, waiting = null, since = 0;
  const send = (values) => {
    asked += 1;
    since = performance.now();
    model.set("asked", { number: asked, values });
    model.save_changes();
  };
  const ask = (values) => { if (since) waiting = values; else send(values); };
  // Laid out after it stands in the page: before, it has no width.
  requestAnimationFrame(() => {
    const show = face(root, model.get("fixed"), model.get("answer").setting, ask);
    // JupyterLab would take the arrow keys for its cells.
    for (const input of root.querySelectorAll("input")) input.dataset.lmSuppressShortcuts = "true";
    const answer = () => {
      show(model.get("answer"));
      if (!since) return;
      root.dataset.milliseconds = (performance.now() - since).toFixed(1);
      root.dataset.moves = asked;
      since = 0;
      if (waiting) { const next = waiting; waiting = null; send(next); }
    };
    model.on("change:answer", answer);
    answer();
  });
}
export default { render };
