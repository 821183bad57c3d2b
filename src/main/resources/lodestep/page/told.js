import { h, plot, axis, put } from './parts.js';
import { settings, t } from './words.js';
import { table } from './shelf.js';

// A curve or several over one axis; what is told from 100 Hz up has an axis of its own.
function drawing(box, ofNotes) {
  return plot(box, (data, css) => {
    const colours = [css('--curve'), css('--belief'), css('--good'), css('--bad'), css('--ink')];
    return {
      data: [ofNotes ? data.curves[0].x.map((each) => 100 * 10 ** each) : data.curves[0].x,
        ...data.curves.map((each) => each.y)],
      options: {
        height: 240,
        scales: { x: ofNotes ? { time: false, distr: 3 } : { time: false } },
        axes: [axis(ofNotes ? t('told.hertz') : data.across, css),
          axis(data.up, css, { size: 64 })],
        series: [{}, ...data.curves.map((each, index) => ({
          stroke: colours[index % colours.length], width: 2,
          dash: index ? [2 + 4 * index, 4] : undefined, points: { show: false },
        }))],
      },
    };
  });
}

function passage(each) {
  if (each.kind === 'rows') {
    const figures = each.columns.map((name, at) => at).filter((at) => at >= each.words);
    return [each.shown ? h('h3', {}, each.name) : '',
      table(each.name, each.columns, each.rows, figures, true)];
  }
  if (each.kind === 'heading') return h('h3', {}, each.text);
  return h('p', each.kind === 'custom' ? { class: 'note', 'data-kind': 'custom' } : {}, each.text);
}

// The sentences of the commands are in gauss whatever the switch says: then that is said.
export const inGauss = () => (settings.unit === 'mT'
  ? h('p', { class: 'note', 'data-told': 'gauss' }, t('told.gauss')) : '');

// An answer in the sentences of the commands: words, tables, and curves where it is drawn.
export function told(answer) {
  const figures = answer.plots.map((each) => {
    const lines = each.curves.length > 1 ? each.curves.map((curve) => curve.name).join('; ') : '';
    const box = h('div', { class: 'plot', role: 'img',
      'aria-label': [`${each.title}: ${each.up}`, lines].filter(Boolean).join('. ') });
    return { box, each, draw: drawing(box, each.across.startsWith('decades')) };
  });
  const node = h('div', { class: 'told' }, inGauss(), answer.passages.map(passage),
    h('div', { class: 'plots' }, figures.map(({ box, each }) => h('div', {}, box,
      each.curves.length > 1 ? h('p', { class: 'soft' },
        t('told.curves', { names: each.curves.map((curve) => curve.name).join('; ') })) : ''))));
  return { node, draw: () => figures.forEach(({ each, draw }) => draw.show(each)) };
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
