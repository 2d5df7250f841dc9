
// The day's data, the moment looked at, and its read-out.

const byId = (id) => document.getElementById(id);
const dataBlock = byId("day-data");
const day = dataBlock ? JSON.parse(dataBlock.textContent) : null;
const series = day ? day.series : {};
const samples = Math.max(0, ...Object.values(series).map((s) => s.length));

// What is looked at: the moment (a sample's number), the picked stretch, and the
// part of the day that the timeline shows (Unix seconds).
const look = { at: null, picked: null, from: 0, to: 0 };
const onMoment = []; // called when the moment has changed
const onPick = []; // called when another stretch, or none, is picked
const onZoom = []; // called when the timeline shows another part of the day

const timeOf = (i) => day.start + i * day.step;
const sampleAt = (t) => Math.min(samples - 1, Math.max(0, Math.round((t - day.start) / day.step)));
const valueAt = (name, i) => (series[name] && series[name][i] !== undefined ? series[name][i] : null);

// clock prints a time of day in the page's zone.
function clock(t, seconds = true) {
  const text = new Date((Math.round(t) + day.offset) * 1000).toISOString();
  return text.slice(11, seconds ? 19 : 16);
}

function stretchAt(t) {
  return day.stretches.find((s) => t >= s.start && t < s.end) || null;
}

const nameOf = (s) => (s ? `${s.name} ${s.id}` : "—");

const bearing = (deg) => `${String(Math.round(deg) % 360).padStart(3, "0")}°`;

// fields of the read-out: a name, and what it says of a sample; "" for not known.
const fields = [
  ["time", (i) => `${clock(timeOf(i))} ${day.zone}`],
  ["doing", (i) => nameOf(stretchAt(timeOf(i)))],
  ["over ground", (i) => speed(valueAt("speed", i))],
  ["through water", (i) => speed(valueAt("water", i))],
  ["heading", (i) => (valueAt("heading", i) === null ? "" : bearing(valueAt("heading", i)))],
  ["wind", (i) => wind(i)],
  ["engine", (i) => (valueAt("rpm", i) === null ? "" : `${valueAt("rpm", i)} rpm`)],
];

function speed(v) {
  return v === null ? "" : `${v.toFixed(1)} ${day.speedUnit}`;
}

function wind(i) {
  const from = valueAt("from", i);
  const text = speed(valueAt("wind", i));
  return from === null ? text : `${text} from ${bearing(from)}`;
}

// The fields that this day has anything to say in.
const readings = [];

function makeReadout() {
  const has = { "through water": "water", heading: "heading", wind: "wind", engine: "rpm" };
  for (const [name, say] of fields) {
    if (has[name] && !series[has[name]]) continue;
    const pair = document.createElement("div");
    const dt = document.createElement("dt");
    const dd = document.createElement("dd");
    dt.textContent = name === "wind" ? day.windName : name;
    dd.textContent = "—";
    dd.dataset.reading = name;
    pair.append(dt, dd);
    byId("readout").append(pair);
    readings.push({ dd, say });
  }
  onMoment.push(() => {
    for (const r of readings) r.dd.textContent = r.say(look.at) || "—";
  });
}

// moveTo looks at the moment of a sample. A spoken move is put into words for
// those who listen: by keyboard and button, not by every twitch of a mouse.
function moveTo(i, spoken = false) {
  if (i !== look.at) {
    look.at = i;
    onMoment.forEach((f) => f());
  }
  if (spoken) say(fields.slice(1).map(([name, text]) => (text(i) ? `${name} ${text(i)}` : "")).filter(Boolean).join(", "));
}

let saying = 0;

// say speaks after a rest, so that a held key doesn't pile up sentences.
function say(text) {
  clearTimeout(saying);
  saying = setTimeout(() => {
    byId("said").textContent = text;
  }, 400);
}

// draw adds an SVG element.
function draw(parent, name, attributes, text) {
  const e = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes || {})) e.setAttribute(key, value);
  if (text !== undefined) e.textContent = text;
  parent.append(e);
  return e;
}

// figureOf finds a figure's drawing by name and readies it for pointers: its title
// becomes a label, since a browser would hang a title at the pointer.
function figureOf(name) {
  const title = byId(`${name}-title`);
  if (!title) return null;
  const root = title.parentNode;
  root.setAttribute("aria-label", title.textContent);
  root.removeAttribute("aria-labelledby");
  root.classList.add("live");
  title.remove();
  return root;
}

// placeIn is where a pointer is, in a drawing's own units, and how many of them
// make a pixel.
function placeIn(root, event) {
  const r = root.getBoundingClientRect();
  const k = root.viewBox.baseVal.width / r.width;
  return { x: (event.clientX - r.left) * k, y: (event.clientY - r.top) * k, unit: k };
}
