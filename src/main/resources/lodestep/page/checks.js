import { axis, h, part, plot } from './parts.js';
import { t, flux, inUnit, sentence, settings } from './words.js';
import { asking, day, draft, field, percent, sent } from './shelf.js';
import { crossed, nestChoice, relation, toNow, width } from './studies.js';

// Readings of a reference magnet in their order, between the limits of their chart.
function chart(reference) {
  const box = h('div', { class: 'plot', role: 'img', 'aria-label': t('chart.words', {
    n: reference.readings.length, name: reference.name }) });
  const drawn = plot(box, (seen, css) => {
    const shown = (tesla) => (tesla === undefined ? null : inUnit(tesla));
    const flat = (tesla) => seen.readings.map(() => shown(tesla));
    const lines = [seen.chart?.upperTesla, seen.chart?.centreTesla, seen.chart?.lowerTesla];
    return {
      data: [seen.readings.map((each, at) => at + 1), ...lines.map(flat),
        seen.readings.map((each) => shown(each.weightedTesla)),
        seen.readings.map((each) => shown(each.tesla))],
      options: {
        scales: { x: { time: false, range: [0.5, seen.readings.length + 0.5] } },
        axes: [axis(t('chart.reading'), css, { incrs: [1, 2, 5, 10, 20, 50, 100] }),
          axis(t('curve.level', { unit: settings.unit }), css, { size: 72 })],
        series: [{},
          ...[[8, 5], [2, 4], [8, 5]].map((dash) => (
            { stroke: css('--soft'), width: 1.5, dash, points: { show: false } })),
          { stroke: css('--belief'), width: 2, points: { show: false } },
          { stroke: css('--curve'), width: 2, points: { show: true, size: 9 } }],
      },
    };
  });
  return { box, show: () => drawn.show(reference) };
}

function stands(reference) {
  if (reference.inControl === undefined) return h('p', { class: 'mind' }, t('check.never'));
  const last = reference.readings[reference.readings.length - 1];
  const when = last ? t('check.when', { day: day(last.wallEpochMs), level: flux(last.tesla) }) : '';
  return reference.inControl
    ? h('p', {}, h('span', { class: 'good' }, t('check.good')), ` ${when}`)
    : h('p', {}, h('span', { class: 'bad' }, t('check.bad', { why: sentence(told(reference.why)) })), ` ${when}`);
}

function check(context, reference, later) {
  const plotted = reference.readings.length > 1 ? chart(reference) : null;
  if (plotted) later.push(plotted.show);
  return h('div', { 'data-reference': reference.name },
    h('h3', {}, t('check.of', { name: reference.name, nest: reference.nest })),
    h('p', { class: 'soft' }, t('check.certificate', { level: flux(reference.tesla),
      uncertainty: flux(reference.expandedTesla), date: reference.date })),
    stands(reference),
    plotted ? [plotted.box, h('p', { class: 'soft' },
      t(reference.chart ? 'chart.limits' : 'chart.no.limits'))] : null,
    context.mayPrepare() ? h('div', { class: 'row' }, h('button', { type: 'button', 'data-act': 'check',
      onclick: asking(context, '/gauge/checks', () => ({ reference: reference.name }), toNow) },
    t('check.do', { name: reference.name }))) : null);
}

function seating(context, seen) {
  const into = draft('seating', { nest: context.rigSays().nests[0].name, magnet: '', times: '10', tolerance: '' });
  const known = seen.seatings.map((each) => h('p', {}, t('seating.found', { nest: each.nest,
    fraction: percent(each.fraction), most: percent(each.fractionAtMost), n: each.readings }),
  each.verdict ? ` ${t('seating.verdict', { part: Math.round(100 * each.toleranceFraction),
    tolerance: flux(each.toleranceTesla), verdict: each.verdict })}` : ''));
  return [known.length ? known : h('p', {}, t('seating.none')),
    context.mayPrepare() ? h('form', { onsubmit: asking(context, '/gauge/studies', () => ({
      ...into, tolerance: width(into.tolerance) }), () => { sent('seating'); toNow(); }) },
    h('div', { class: 'row' },
      nestChoice(context, into, 'seating-nest'),
      field('seating-magnet', t('seating.magnet'), into, 'magnet', { maxlength: '40' }),
      field('seating-times', t('seating.times'), into, 'times', { inputmode: 'numeric' }),
      field('seating-band', t('seating.band', { unit: settings.unit }), into, 'tolerance',
        { inputmode: 'decimal' })),
    h('div', { class: 'row' }, h('button', { 'data-act': 'seating' }, t('seating.do')))) : null];
}

// How the gauge is known: what is on record of it, and the readings that can be begun.
export function checks(context) {
  const box = h('div', {});
  const later = [];
  async function show() {
    const seen = await context.link.read('/gauge/record');
    later.length = 0;
    box.replaceChildren(h('div', { class: 'two' },
      part(t('check'), h('p', { class: 'soft' }, t('check.is')),
        h('p', {}, t('check.calibration', { by: seen.calibration })),
        seen.references.length ? seen.references.map((each) => check(context, each, later))
          : h('p', {}, t('check.none'))),
      h('div', {},
        part(t('seating'), h('p', { class: 'soft' }, t('seating.is')), ...seating(context, seen).flat()),
        relation(context, seen, () => show()))),
    crossed(context, seen));
    draw();
  }
  const draw = () => later.forEach((each) => each());
  show().catch((failed) => box.replaceChildren(h('p', { class: 'note' }, sentence(failed.message))));
  return { box, draw };
}
