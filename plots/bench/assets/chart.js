// Coolant and oil over time: a drawing that is read with the pointer or the
// arrow keys. The same numbers stand in a table below it.

const { uPlot } = globalThis;

const one = (selector) => document.querySelector(selector);

/** The colours of the page by name, as they were last read. */
const palette = {};

function readPalette() {
  const style = getComputedStyle(document.documentElement);
  for (const name of ["coolant", "oil", "ink", "quiet", "line", "edge", "paper"]) {
    palette[name] = style.getPropertyValue(`--${name}`).trim();
  }
}

/** Minutes as min:s. */
function clock(minutes) {
  const seconds = Math.round(minutes * 60);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

const circuits = [
  { name: "coolant", dash: [] },
  { name: "oil", dash: [9, 4] },
];

/** Chart draws into a place of the page, and tells the moment pointed at. */
export class Chart {
  constructor(place) {
    this.place = place;
    this.readout = one("#readout");
    this.table = one("#chart-table");
    this.table.addEventListener("toggle", () => this.table.open && this.data && this.#showRows());
    this.data = null;
    this.plot = null;
    readPalette();
    new ResizeObserver(() => this.#resize()).observe(place);
    for (const kind of ["(prefers-color-scheme: dark)", "print"]) {
      matchMedia(kind).addEventListener("change", () => this.#redraw());
    }
    place.addEventListener("keydown", (event) => this.#key(event));
  }

  /** Shows the histories of an answer. */
  show(data) {
    this.data = data;
    if (!this.plot) this.#make();
    else this.plot.setData(this.#columns());
    this.#tell(this.plot.cursor.idx);
    if (this.table.open) this.#showRows();
  }

  /** The numbers of the chart as a table, every half minute or less often. */
  #showRows() {
    const { time, coolant, oil, unit } = this.data;
    const every = Math.max(1, Math.ceil(time.at(-1) / 20)) / 2;
    const rows = [];
    let next = 0;
    time.forEach((minutes, i) => {
      if (minutes < next && i < time.length - 1) return;
      rows.push([clock(minutes), coolant[i].toFixed(1), oil[i].toFixed(1)]);
      next += every;
    });
    one("#chart-rows").replaceChildren(tableOf(["min:s", `coolant ${unit}`, `oil ${unit}`], rows));
  }

  #columns() {
    const { time, coolant, oil, pinned } = this.data;
    const none = [[0], [null], [null]];
    const before = pinned ? [pinned.time, pinned.coolant, pinned.oil] : none;
    return uPlot.join([[time, coolant, oil], before]);
  }

  #make() {
    const hooks = { drawClear: [() => this.#drawLegs()], draw: [() => this.#drawLimits()], setCursor: [(u) => this.#tell(u.cursor.idx)] };
    const options = {
      ...this.#size(),
      hooks,
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, y: false },
      scales: { x: { time: false }, y: { range: () => this.#span() } },
      axes: [
        { ...this.#axis(), size: 24, label: "min:s", labelSize: 16, values: (_, minutes) => minutes.map(clock) },
        { ...this.#axis(), size: 46, label: this.data.unit, labelSize: 18 },
      ],
      series: [{}, ...circuits.map((c) => this.#line(c, 2.5)), ...circuits.map((c) => this.#line(c, 1.25, [3, 4]))],
    };
    this.plot = new uPlot(options, this.#columns(), this.place);
  }

  #line({ name, dash }, width, pinnedDash) {
    return { stroke: () => palette[name], width, dash: pinnedDash ?? dash, spanGaps: true, points: { show: false } };
  }

  #axis() {
    return {
      stroke: () => palette.ink,
      grid: { stroke: () => palette.line, width: 1 },
      ticks: { stroke: () => palette.line, width: 1 },
      font: "13px system-ui, sans-serif",
      labelFont: "13px system-ui, sans-serif",
    };
  }

  /** The span of temperatures: all curves and lines, with a little air. */
  #span() {
    const { coolant, oil, pinned, limits, cautions } = this.data;
    const all = [coolant, oil, pinned?.coolant ?? [], pinned?.oil ?? [], Object.values(limits), Object.values(cautions)].flat();
    const low = Math.min(...all);
    const high = Math.max(...all);
    const air = Math.max((high - low) * 0.08, 1);
    return [low - 2 * air, high + air]; // the names of legs stand at the foot
  }

  #drawLegs() {
    const { ctx, bbox } = this.plot;
    ctx.save();
    ctx.fillStyle = palette.quiet;
    ctx.strokeStyle = palette.edge;
    ctx.font = `${12 * devicePixelRatio}px system-ui, sans-serif`;
    ctx.textBaseline = "bottom";
    ctx.textAlign = "left";
    ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
    for (const leg of this.data.legs) this.#drawLeg(ctx, bbox, leg);
    ctx.restore();
  }

  #drawLeg(ctx, bbox, { name, start, end }) {
    const left = this.plot.valToPos(start, "x", true);
    const right = this.plot.valToPos(end, "x", true);
    if (start > 0) stroke(ctx, left, bbox.top, left, bbox.top + bbox.height);
    const text = name.replaceAll("_", " ");
    if (ctx.measureText(text).width + 8 < right - left) write(ctx, text, left + 4, bbox.top + bbox.height - 3);
  }

  #drawLimits() {
    const { ctx, bbox } = this.plot;
    const { limits, cautions } = this.data;
    ctx.save();
    ctx.lineWidth = devicePixelRatio;
    ctx.font = `${12 * devicePixelRatio}px system-ui, sans-serif`;
    ctx.textAlign = "right";
    for (const { name } of circuits) {
      const lower = limits[name] < Math.max(limits.coolant, limits.oil);
      ctx.strokeStyle = ctx.fillStyle = palette[name];
      ctx.textBaseline = lower ? "top" : "bottom";
      this.#level(ctx, bbox, cautions[name], [2, 4]);
      const y = this.#level(ctx, bbox, limits[name], [10, 3, 2, 3]);
      write(ctx, `${name} limit`, bbox.left + bbox.width - 4 * devicePixelRatio, y);
    }
    ctx.restore();
  }

  #level(ctx, bbox, value, dash) {
    const y = this.plot.valToPos(value, "y", true);
    ctx.setLineDash(dash.map((length) => length * devicePixelRatio));
    stroke(ctx, bbox.left, y, bbox.left + bbox.width, y);
    return y;
  }

  #key(event) {
    const steps = { ArrowLeft: -1, ArrowRight: 1, PageDown: -12, PageUp: 12, Home: -Infinity, End: Infinity };
    const step = steps[event.key];
    if (step === undefined || !this.plot) return;
    event.preventDefault();
    const last = this.plot.data[0].length - 1;
    const index = Math.min(Math.max((this.plot.cursor.idx ?? 0) + step, 0), last);
    const left = this.plot.valToPos(this.plot.data[0][index], "x");
    this.plot.setCursor({ left, top: 0 });
  }

  /** Says the moment that is pointed at, or nothing. */
  #tell(index) {
    const times = this.plot?.data[0];
    const minutes = times?.[index];
    this.readout.textContent = minutes === undefined ? "" : this.#moment(index, minutes);
    this.place.setAttribute("aria-valuemax", Math.round(times.at(-1) * 60));
    this.place.setAttribute("aria-valuenow", Math.round((minutes ?? 0) * 60));
    this.place.setAttribute("aria-valuetext", this.readout.textContent || "no moment chosen");
  }

  #moment(index, minutes) {
    const { unit, legs } = this.data;
    const shown = (i) => this.plot.data[i][index]?.toFixed(1);
    const parts = [clock(minutes), legs.findLast((leg) => leg.start <= minutes)?.name.replaceAll("_", " ")];
    circuits.forEach(({ name }, i) => {
      const [now, before] = [shown(1 + i), shown(3 + i)];
      if (now) parts.push(`${name} ${now} ${unit}${before ? ` (pinned ${before})` : ""}`);
    });
    return parts.filter(Boolean).join(" · ");
  }

  #size() {
    return { width: this.place.clientWidth || 300, height: this.place.clientHeight };
  }

  #resize() {
    if (this.place.clientWidth > 0) this.plot?.setSize(this.#size());
  }

  #redraw() {
    readPalette();
    this.plot?.redraw(false, true);
  }
}

function stroke(ctx, x1, y1, x2, y2) {
  ctx.beginPath();
  ctx.moveTo(x1, y1);
  ctx.lineTo(x2, y2);
  ctx.stroke();
}

/** Writes so that it can be read over lines. */
function write(ctx, text, x, y) {
  ctx.save();
  ctx.setLineDash([]);
  ctx.lineWidth = 4 * devicePixelRatio;
  ctx.strokeStyle = palette.paper;
  ctx.strokeText(text, x, y);
  ctx.restore();
  ctx.fillText(text, x, y);
}

/** A table of numbers below their headers. */
function tableOf(header, rows) {
  const table = document.createElement("table");
  table.createCaption().textContent = "Temperatures over time";
  const head = table.createTHead().insertRow();
  for (const text of header) head.append(cellOf("th", text, "col"));
  const body = table.createTBody();
  for (const [first, ...others] of rows) {
    body.insertRow().append(cellOf("th", first, "row"), ...others.map((text) => cellOf("td", text)));
  }
  return table;
}

function cellOf(kind, text, scope) {
  const cell = document.createElement(kind);
  cell.textContent = text;
  cell.className = "number";
  if (scope) cell.scope = scope;
  return cell;
}
