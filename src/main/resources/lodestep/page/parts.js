import { t, flux, inUnit, settings } from './words.js';

// One element: its attributes, listeners as on…, and its children.
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined));
  return element;
}

export const part = (title, ...children) =>
  h('section', { class: 'part' }, h('h2', {}, title), ...children);

export function put(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

const SVG = 'http://www.w3.org/2000/svg';

function s(tag, attributes = {}, text = '') {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  if (text) element.textContent = text;
  return element;
}

// A scale with its band: from nothing to what such a magnet reads fully charged.
export function scale() {
  const left = 14;
  // As wide as its place, so that its words are as large on a phone as elsewhere.
  let width = 640;
  let right = width - left;
  const svg = s('svg', { class: 'scale', preserveAspectRatio: 'xMidYMid meet', role: 'img' });
  const box = h('div', {}, svg);
  let drawn = '';
  let hand = null;
  let most = 1;
  const at = (tesla) => left + Math.min(1, Math.max(0, tesla / most)) * (right - left);

  function draw(view) {
    svg.replaceChildren();
    svg.setAttribute('viewBox', `0 0 ${width} 112`);
    right = width - left;
    most = Math.max(view.full ?? 0, view.most ?? 0, (view.target ?? 0) * 1.3, 0.01) * 1.06;
    svg.append(s('line', { class: 'axis', x1: left, x2: right, y1: 62, y2: 62 }));
    const step = nice(inUnit(most) / 5);
    for (let value = 0; value <= inUnit(most); value += step) {
      const tesla = settings.unit === 'mT' ? value / 1e3 : value / 1e4;
      const x = at(tesla);
      svg.append(s('line', { class: 'axis', x1: x, x2: x, y1: 58, y2: 70 }));
      svg.append(s('text', {
        class: 'dim', x, y: 86, 'text-anchor': value === 0 ? 'start' : 'middle',
      }, `${Math.round(value * 10) / 10}`));
    }
    if (view.target) {
      const low = at(view.target - view.tolerance);
      const high = at(view.target + view.tolerance);
      svg.append(s('rect', {
        class: 'band', x: low, width: Math.max(5, high - low), y: 40, height: 28, rx: 3,
      }));
      svg.append(s('text', {
        x: Math.min(right - 110, Math.max(110, (low + high) / 2)), y: 106, 'text-anchor': 'middle',
      }, t('scale.band', { target: flux(view.target), tolerance: flux(view.tolerance) })));
    }
    if (view.full) {
      const x = at(view.full);
      svg.append(s('line', { class: 'full', x1: x, x2: x, y1: 34, y2: 70 }));
      svg.append(s('text', { class: 'dim', x: x - 6, y: 30, 'text-anchor': 'end' },
        t('scale.full')));
    }
    hand = s('path', { class: 'hand', d: 'M0 60 L-10 38 L10 38 Z' });
    svg.append(hand);
  }

  function show(view) {
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
    width = Math.round((box.clientWidth || 640) * (112 / (7.2 * rem)));
    const key = JSON.stringify([view.target, view.tolerance, view.full, view.most, settings.unit, width]);
    if (key !== drawn) {
      drawn = key;
      draw(view);
    }
    hand.style.display = view.tesla === undefined ? 'none' : '';
    hand.style.transform = `translateX(${at(Math.abs(view.tesla ?? 0))}px)`;
    svg.setAttribute('aria-label', view.words);
  }
  return { box, show };
}

export function nice(step) {
  const power = 10 ** Math.floor(Math.log10(step));
  return [1, 2, 5, 10].map((each) => each * power).find((each) => each >= step);
}

// How much of a limit is used, as a bar with its words.
export function limit(name) {
  const words = h('dd', {});
  const used = h('i', {});
  const bar = h('div', { class: 'bar', 'aria-hidden': 'true' }, used);
  return {
    nodes: [h('dt', {}, name), words],
    show(text, fraction) {
      if (!words.contains(bar)) words.replaceChildren(h('span', { class: 'figures' }), bar);
      put(words.firstChild, text);
      used.style.width = `${Math.round(Math.min(1, Math.max(0, fraction)) * 100)}%`;
      used.className = fraction > 1 ? 'over' : '';
    },
  };
}

const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
let library = null;

async function plots() {
  if (!library) {
    const sheet = h('link', { rel: 'stylesheet', href: '/page/uplot.css' });
    document.head.append(sheet);
    library = (await import('./uplot.js')).default;
  }
  return library;
}

// A plot that keeps its place and is drawn anew when its data, its width or the light change.
export function plot(box, build) {
  let made = null;
  let key = '';
  let latest = null;
  // A screen that is turned has another width, also where nothing is looked at again.
  new ResizeObserver(() => { if (latest) show(latest); }).observe(box);
  // Nor where the device turns dark by itself in the evening.
  const dusk = matchMedia('(prefers-color-scheme: dark)');
  dusk.addEventListener('change', () => { if (latest) show(latest); });
  async function show(data) {
    latest = data;
    const wanted = JSON.stringify([data, settings.unit, settings.light, dusk.matches, box.clientWidth]);
    if (wanted === key || box.clientWidth === 0) return;
    key = wanted;
    const Plot = await plots();
    if (wanted !== key || !box.isConnected) return;
    if (made) made.destroy();
    const ask = build(data, css);
    made = new Plot({
      width: box.clientWidth,
      height: Math.max(240, Math.min(grown(440), box.clientWidth * 0.5)),
      legend: { show: false },
      cursor: { show: false },
      ...ask.options,
    }, ask.data, box);
  }
  return { show };
}

// Letters of a plot grow with those of the page, as on a screen of many pixels.
const LETTER = 13;
const letter = () => Math.max(LETTER,
  Math.round(0.8 * Number.parseFloat(getComputedStyle(document.documentElement).fontSize)));
const grown = (px) => Math.round((px * letter()) / LETTER);

export const axis = (label, css_, more = {}) => ({
  label,
  stroke: css_('--soft'),
  grid: { stroke: css_('--line'), width: 1 },
  ticks: { stroke: css_('--line') },
  font: `${letter()}px sans-serif`,
  labelFont: `${letter()}px sans-serif`,
  labelSize: grown(30),
  ...more,
  size: grown(more.size ?? 50),
});
