// Draws a ride, its flight and its landing as SVG, from numbers that the core has reckoned. No mechanics here.
const NS = "http://www.w3.org/2000/svg";
const DASHES = ["", "6 3", "2 3"];

function make(tag, attributes = {}, ...children) {
  const node = tag.startsWith("svg:") ? document.createElementNS(NS, tag.slice(4)) : document.createElement(tag);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  node.append(...children);
  return node;
}

// Metres to pixels, both alike, with room for the numbers along the axes.
class View {
  constructor(box, width, words, length) {
    const [left, right, bottom, top] = box, room = { left: 40, right: 8, top: 6, bottom: 34 };
    this.box = box;
    this.scale = (width - room.left - room.right) / (right - left);
    this.room = room;
    this.width = width;
    this.height = (top - bottom) * this.scale + room.top + room.bottom;
    View.count = (View.count || 0) + 1;
    const clip = { "clip-path": `url(#${View.own}${View.count})` };
    this.moving = make("svg:g", { class: "moving", ...clip });
    this.still = make("svg:g", clip);
    this.svg = make("svg:svg", { viewBox: `0 0 ${width} ${this.height.toFixed(1)}`, role: "img", "aria-label": words.title });
    const inner = { x: room.left, y: room.top, width: width - room.left - room.right, height: this.height - room.top - room.bottom };
    this.svg.append(make("svg:clipPath", { id: `${View.own}${View.count}` }, make("svg:rect", inner)));
    this.axes(words, length);
    this.svg.append(this.still, this.moving);
  }
  x(u) { return this.room.left + (u - this.box[0]) * this.scale; }
  y(v) { return this.room.top + (this.box[3] - v) * this.scale; }
  at(point) { return `${this.x(point[0]).toFixed(1)} ${this.y(point[1]).toFixed(1)}`; }
  way(points) {
    let text = "", open = false;
    for (const p of points) {
      if (p[0] === null || p[1] === null) { open = false; continue; }
      text += (open ? "L" : "M") + this.at(p);
      open = true;
    }
    return text;
  }
  axes(words, length) {
    const [left, right, bottom, top] = this.box, step = round((right - left) / length.size / 7) * length.size;
    const grid = make("svg:g", { class: "grid" }), foot = this.height - this.room.bottom;
    for (let u = Math.ceil(left / step) * step; u <= right + 1e-9; u += step) {
      grid.append(line(this.x(u), this.room.top, this.x(u), foot), text(this.x(u), foot + 13, number(u / length.size), "middle"));
    }
    for (let v = Math.ceil(bottom / step) * step; v <= top + 1e-9; v += step) {
      grid.append(line(this.room.left, this.y(v), this.width - this.room.right, this.y(v)));
      grid.append(text(this.room.left - 5, this.y(v) + 3.5, number(v / length.size), "end"));
    }
    const middle = 0.5 * (this.room.left + this.width - this.room.right);
    grid.append(text(middle, this.height - 5, `${words.x}, ${length.unit}`, "middle"));
    const up = text(10, 0.5 * foot, `${words.y}, ${length.unit}`, "middle");
    up.setAttribute("transform", `rotate(-90 10 ${(0.5 * foot).toFixed(1)})`);
    grid.append(up);
    this.svg.append(grid);
  }
}

// Several faces may stand on one page: each clips by ids of its own.
View.own = `ll-${Math.random().toString(36).slice(2)}-`;

function round(value) {
  const ten = 10 ** Math.floor(Math.log10(value));
  return [1, 2, 5, 10].find((n) => n * ten >= value) * ten;
}
function number(value) { return String(Math.round(value * 1e6) / 1e6).replace("-", "\u2212"); }
function line(x1, y1, x2, y2) { return make("svg:line", { x1, y1, x2, y2 }); }
function text(x, y, words, anchor, kind = "") {
  const node = make("svg:text", { x: x.toFixed(1), y: y.toFixed(1), "text-anchor": anchor, class: kind });
  node.textContent = words;
  return node;
}
function path(d, kind, more = {}) { return make("svg:path", { d, class: kind, ...more }); }

// Dark papers want lighter colours; a browser that cannot choose takes those of the day.
const CHOOSES = typeof CSS !== "undefined" && CSS.supports("color", "light-dark(red, blue)");

function colour(fixed, fall) {
  const share = Math.min(1, Math.max(0, fall / (2 * fixed.limit)));
  const k = Math.round(share * (fixed.colours.length - 1));
  return CHOOSES ? `light-dark(${fixed.colours[k]}, ${fixed.night[k]})` : fixed.colours[k];
}

// The path up to a time: its places lie evenly in time, the last one where the touch is.
function flown(way, until) {
  if (!way.path.length || !way.time) return way.path;
  const share = Math.min(1, until / way.time) * (way.path.length - 1), whole = Math.floor(share);
  const points = way.path.slice(0, whole + 1), [a, b] = [way.path[whole], way.path[whole + 1]];
  if (b) points.push(a.map((v, k) => v + (share - whole) * (b[k] - v)));
  return points;
}

function still(fixed, side, plan) {
  const s = fixed.side, p = fixed.plan, floor = s.box[2];
  const known = s.ground.filter((q) => q[1] !== null);
  if (known.length) {
    side.still.append(path(side.way([[known[0][0], floor], ...known, [known[known.length - 1][0], floor]]) + "Z", "ground"));
  }
  side.still.append(path(side.way(s.ground), "surface"));
  for (const rim of s.rims) side.still.append(path(side.way(rim), "rim"));
  side.still.append(path(side.way(s.edge), "edge"));
  for (const level of p.contours) for (const one of level.lines) plan.still.append(path(plan.way(one), "contour"));
  if (p.area.length) plan.still.append(path(plan.way(p.area) + "Z", "area"));
  for (const one of p.keep_outs) plan.still.append(path(plan.way(one) + "Z", "keepout"));
  plan.still.append(path(plan.way(p.takeoff) + "Z", "takeoff"), path(plan.way(p.edge), "edge"));
  const middle = p.takeoff[Math.floor(p.takeoff.length / 4)];
  plan.still.append(text(plan.x(middle[0]), plan.y(middle[1]) + 14, p.kind, "middle"));
  for (const stone of p.obstacles) {
    const at = { cx: plan.x(stone.place[0]), cy: plan.y(stone.place[1]), r: stone.radius * plan.scale, class: "stone" };
    plan.still.append(make("svg:circle", at), text(at.cx, at.cy - at.r > 16 ? at.cy - at.r - 3 : at.cy + at.r + 11, stone.name, "middle"));
  }
  for (const peg of p.named) {
    const inside = peg.place[0] > p.box[0] && peg.place[0] < p.box[1] && peg.place[1] > p.box[2] && peg.place[1] < p.box[3];
    if (!inside) continue;
    const x = plan.x(peg.place[0]), y = plan.y(peg.place[1]), right = peg.place[0] > 0.3 * p.box[0] + 0.7 * p.box[1];
    plan.still.append(path(`M${x - 4} ${y}h8M${x} ${y - 4}v8`, "peg"), text(x + (right ? -6 : 6), y - 5, peg.name, right ? "end" : "start"));
  }
}

function along(frame, point) {
  return (point[0] - frame.x) * Math.cos(frame.angle) + (point[1] - frame.y) * Math.sin(frame.angle);
}

function moved(fixed, side, plan, scene) {
  const { ways, built, touched } = scene, above = document.createDocumentFragment(), beside = document.createDocumentFragment();
  if (built.earth.length) {
    const back = [...built.earth].reverse();
    beside.append(path(side.way([...built.earth.map((q) => [q[0], q[1]]), ...back.map((q) => [q[0], q[2]])]) + "Z", "earth"));
  }
  for (const [x, y, fall] of built.marks) {
    above.append(make("svg:circle", { cx: plan.x(x).toFixed(1), cy: plan.y(y).toFixed(1), r: 1.6, fill: colour(fixed, fall) }));
  }
  if (built.face.length) {
    above.append(path(plan.way(built.face), "face"), path(plan.way([built.face[0], built.face[3]]), "crest"));
  }
  ways.forEach((way, k) => fly(fixed, side, plan, way, touched.touches[k], k, touched.judge === k, above, beside));
  plan.moving.replaceChildren(above);
  side.moving.replaceChildren(beside);
}

function fly(fixed, side, plan, way, touch, k, judges, above, beside) {
  if (!way.path.length) return;
  const met = touch && touch.length, points = flown(way, met ? touch[0] : way.time);
  const ink = met ? colour(fixed, touch[4]) : "var(--ll-ink)";
  const look = { stroke: ink, "stroke-dasharray": DASHES[k], "stroke-width": judges ? 2.6 : 1.3 };
  beside.append(path(side.way(points.map((q) => [along(fixed.frame, q), q[2]])), "flight", look));
  above.append(path(plan.way(points), "flight", look));
  if (!met) return;
  const mark = [touch[1], touch[2]], r = judges ? 4.5 : 2.5;
  beside.append(make("svg:circle", { cx: side.x(along(fixed.frame, mark)), cy: side.y(touch[3]), r, fill: ink, class: "mark" }));
  above.append(make("svg:circle", { cx: plan.x(mark[0]), cy: plan.y(mark[1]), r, fill: ink, class: "mark" }));
}

// Builds the whole face in `root`; `ask(values)` is called on each move; returns what shows an answer.
function face(root, fixed, values, ask) {
  const size = root.clientWidth > 0 ? Math.min(root.clientWidth, 620) : 620;
  const side = new View(fixed.side.box, size, { title: "Side view", x: "along the landing from the edge", y: "height" }, fixed.length);
  const plan = new View(fixed.plan.box, size, { title: "Plan", x: "x", y: "y" }, fixed.length);
  still(fixed, side, plan);
  const sliders = fixed.sliders.map((slider, k) => row(slider, values[k], () => ask(read())));
  const read = () => sliders.map((one) => Number(one.input.value));
  const cells = fixed.rows.map((r) => make("output", { class: "ll-value", "aria-label": r.label }));
  const table = make("table", { class: "ll-numbers" });
  fixed.rows.forEach((r, k) => table.append(make("tr", {}, make("th", { scope: "row" }, r.label), make("td", {}, cells[k]))));
  const said = make("p", { class: "ll-said", "aria-live": "polite" }), bars = make("p", { class: "ll-why" });
  const key = make("p", { class: "ll-key" }, "Lines by lean: ");
  fixed.leans.forEach((lean, k) => {
    const sample = make("svg:svg", { width: 26, height: 8, "aria-hidden": "true" });
    sample.append(path("M0 4H26", "flight", { stroke: "currentColor", "stroke-dasharray": DASHES[k], "stroke-width": 2 }));
    key.append(sample, ` ${lean}; `);
  });
  key.append(`they are the ways of the centre of mass. Colour by fall height, from none (dark) to ${(2 * fixed.limit / fixed.length.size).toFixed(1)} ${fixed.length.unit} (light).`);
  const numbers = make("div", { class: "ll-side" }, said, bars, table);
  root.append(
    make("div", { class: "ll-sliders" }, ...sliders.map((one) => one.node)),
    make("div", { class: "ll-top" }, make("div", { class: "ll-pictures" }, side.svg, plan.svg), numbers),
    key, make("p", { class: "ll-caution" }, fixed.caution));
  return (scene) => {
    moved(fixed, side, plan, scene);
    scene.touched.values.forEach((value, k) => { cells[k].textContent = told(value, fixed.rows[k]); });
    cells[0].style.borderColor = scene.touched.values[0] === null ? "transparent" : colour(fixed, scene.touched.values[0]);
    said.textContent = scene.touched.said;
    bars.textContent = scene.built.why;
  };
}

function told(value, spec) {
  if (value === null) return "\u2013";
  // A barrow begun is a barrow, as in the report.
  const whole = spec.label === "barrows" ? Math.ceil(value - 1e-9) : value;
  const text = whole.toFixed(spec.digits).replace("-", "\u2212");
  return spec.unit === "" ? text : spec.unit === "°" ? `${text}°` : `${text} ${spec.unit}`;
}

function row(slider, value, move) {
  const input = make("input", { type: "range", min: slider.low, max: slider.high, step: slider.step, value, "aria-label": slider.label });
  input.value = value;
  const shown = make("output", {}), unit = slider.unit === "°" ? "°" : ` ${slider.unit}`;
  const show = () => { shown.textContent = (input.value / slider.size).toFixed(slider.unit === "°" ? 1 : 2) + unit; };
  input.addEventListener("input", () => { show(); move(); });
  show();
  return { input, node: make("label", {}, make("span", {}, slider.label), input, shown) };
}
