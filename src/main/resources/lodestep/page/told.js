import { h, plot, axis, put } from './parts.js';
import { settings, t, translated } from './words.js';
import { choice } from './plan.js';
import { table } from './shelf.js';

// A line at each figure of a decade, and words at 1, 2 and 5 of it.
const DECADES = {
  filter: (made, splits) => splits,
  values: (made, splits) => splits.map((each) => (each && /^[125]0*$/.test(`${Math.round(each)}`)
    ? t(each < 1000 ? 'told.note' : 'told.note.kilo', { n: Math.round(each < 1000 ? each : each / 1000) }) : '')),
};

// A curve or several over one axis; what is told from 100 Hz up has an axis of its own.
function drawing(box, ofNotes) {
  return plot(box, (data, css) => {
    const colours = [css('--curve'), css('--belief'), css('--good'), css('--bad'), css('--ink')];
    return {
      data: [ofNotes ? data.curves[0].x.map((each) => 100 * 10 ** each) : data.curves[0].x,
        ...data.curves.map((each) => each.y)],
      options: {
        scales: { x: ofNotes ? { time: false, distr: 3, range: (made, least, most) => [least, most] }
          : { time: false } },
        axes: [axis(ofNotes ? t('told.hertz') : translated(data.across), css, ofNotes ? DECADES : {}),
          axis(translated(data.up), css, { size: 64 })],
        series: [{}, ...data.curves.map((each, index) => ({
          stroke: colours[index % colours.length], width: 2,
          dash: index ? [2 + 4 * index, 4] : undefined, points: { show: false },
        }))],
      },
    };
  });
}

// On a phone a long table is looked at when it is wanted.
const WIDE = matchMedia('(min-width: 40rem)');

function passage(each, first) {
  if (each.kind === 'rows') {
    const figures = each.columns.map((name, at) => at).filter((at) => at >= each.words);
    // Where two columns stand beside each other on any screen, they need not be told row by row.
    const name = translated(each.name);
    const rows = table(name, each.columns.map(translated), each.rows.map((row) => row.map(translated)), figures,
      each.columns.length > 2);
    return each.shown ? h('details', { open: first || WIDE.matches }, h('summary', {}, name), rows) : rows;
  }
  if (each.kind === 'heading') return h('h3', {}, translated(each.text));
  return h('p', each.kind === 'custom' ? { class: 'note', 'data-kind': 'custom' } : {}, translated(each.text));
}

// The sentences of the commands are in gauss whatever the switch says: then that is said.
export const inGauss = () => (settings.unit === 'mT'
  ? h('p', { class: 'note', 'data-told': 'gauss' }, t('told.gauss')) : '');

// Of several curves one is looked at, and the same one in the next answer.
let looked = '';

// An answer in the sentences of the commands: words, tables, and curves where it is drawn.
export function told(answer) {
  const figures = answer.plots.map((each) => {
    const lines = each.curves.length > 1 ? each.curves.map((curve) => translated(curve.name)).join('; ') : '';
    const box = h('div', { class: 'plot', role: 'img',
      'aria-label': [`${translated(each.title)}: ${translated(each.up)}`, lines].filter(Boolean).join('. ') });
    return { box, each, draw: drawing(box, each.across.startsWith('decades')) };
  });
  const rows = answer.passages.find((each) => each.kind === 'rows');
  const shown = () => figures.find(({ each }) => each.up === looked) ?? figures[0];
  const plots = h('div', { class: 'plots', 'aria-live': 'polite' });
  const draw = () => shown()?.draw.show(shown().each);
  const place = () => {
    if (!shown()) return;
    const { box, each } = shown();
    plots.replaceChildren(box, each.curves.length > 1 ? h('p', { class: 'soft' },
      t('told.curves', { names: each.curves.map((curve) => translated(curve.name)).join('; ') })) : '');
    draw();
  };
  const node = h('div', { class: 'told' }, inGauss(), answer.passages.map((each) => passage(each, each === rows)),
    figures.length > 1 ? choice('told-curve', t('told.curve'),
      figures.map(({ each }) => [each.up, translated(each.up)]), shown().each.up, (up) => {
        looked = up;
        place();
      }) : '', plots);
  place();
  return { node, draw };
}

// Says that it is being worked out, and for how long by now; the seconds are for the eye alone.
export async function reckoned(says, read) {
  const began = performance.now();
  const seconds = h('span', { class: 'figures', 'aria-hidden': 'true' });
  const count = () => put(seconds, t('voice.seconds',
    { n: Math.floor((performance.now() - began) / 1000) }));
  count();
  says.className = 'soft';
  says.replaceChildren(t('voice.working'), ' ', seconds);
  const timer = setInterval(count, 1000);
  try {
    return await read();
  } finally {
    clearInterval(timer);
  }
}
