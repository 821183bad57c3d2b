import { h, part } from './parts.js';
import { t, flux, settings } from './words.js';
import { asking, draft, field, percent, sent, table } from './shelf.js';

export const toNow = () => { location.hash = 'now'; };

// A width as it is typed, with the unit of the page.
export const width = (text) => (text.trim() ? `${text.trim().replace(',', '.')} ${settings.unit}` : '');

export function nestChoice(context, into, id) {
  return h('div', {}, h('label', { for: id }, t('seating.nest')),
    h('select', { id, onchange: (event) => { into.nest = event.target.value; } },
      context.rigSays().nests.map((each) => h('option', { selected: each.name === into.nest }, each.name))));
}

const short = (value) => (value >= 1000 ? Math.round(value).toLocaleString('en') : value.toPrecision(3));
const squared = (value) => short(value * (settings.unit === 'mT' ? 1e6 : 1e8));
const ratio = (value) => (value === undefined ? '' : short(value));
const chance = (value) => (value === undefined ? '' : value.toFixed(3));

function found(seen) {
  const kinds = ['gauge', 'persons', 'both', 'magnets', 'all'];
  return h('div', { 'data-crossed': seen.entry },
    h('h3', {}, t('crossed.of', { nest: seen.nest, magnets: seen.magnets.length,
      persons: seen.persons.length, times: seen.times })),
    h('p', {}, t(seen.toleranceTesla > 0 ? 'crossed.verdict' : 'crossed.verdict.all', {
      verdict: seen.verdict, part: (100 * seen.fraction).toFixed(1), tolerance: flux(seen.toleranceTesla) }),
    seen.categories === undefined ? '' : ` ${t('crossed.kinds', { n: seen.categories })}`),
    h('h3', {}, t('crossed.scatter')),
    table(t('crossed.scatter'), [t('crossed.source'), t('crossed.variance'), t('crossed.ranges')],
      kinds.map((each) => [each === 'gauge' || each === 'both' ? t(`crossed.own.${each}`) : t(`crossed.source.${each}`), flux(seen.variance[each]), flux(seen.ranges[each])]), [1, 2]),
    h('h3', {}, t('crossed.table')),
    table(t('crossed.table'), [t('crossed.source'), t('crossed.squares', { unit: settings.unit }),
      t('crossed.freedom'), t('crossed.mean', { unit: settings.unit }), t('crossed.ratio'), t('crossed.chance')],
    seen.sources.map((each) => [t(`crossed.source.${each.source}`), squared(each.squares),
      String(each.freedom), squared(each.mean), ratio(each.ratio), chance(each.chance)]), [1, 2, 3, 4, 5]),
    h('p', { class: 'soft' }, t(seen.pooled ? 'crossed.pooled' : 'crossed.kept')));
}

// Several persons, several magnets: how much of the scatter is whose.
export function crossed(context, seen) {
  const into = draft('crossed', { nest: context.rigSays().nests[0].name, magnets: '', persons: '',
    times: '3', tolerance: '' });
  const begin = context.mayPrepare() ? h('form', { onsubmit: asking(context, '/gauge/studies',
    () => ({ ...into, tolerance: width(into.tolerance) }), () => { sent('crossed'); toNow(); }) },
  h('div', { class: 'row' },
    nestChoice(context, into, 'crossed-nest'),
    field('crossed-magnets', t('crossed.magnets'), into, 'magnets', { maxlength: '200', required: true }),
    field('crossed-persons', t('crossed.persons'), into, 'persons', { maxlength: '200', required: true }),
    field('crossed-times', t('crossed.times'), into, 'times', { inputmode: 'numeric' }),
    field('crossed-band', t('seating.band', { unit: settings.unit }), into, 'tolerance',
      { inputmode: 'decimal' })),
  h('div', { class: 'row' }, h('button', { 'data-act': 'crossed' }, t('crossed.do')),
    seen.open ? h('button', { type: 'button', 'data-act': 'study-on',
      onclick: asking(context, '/gauge/studies', () => ({ again: 'on' }), toNow) },
    t('study.on', { n: seen.open.readings, of: seen.open.asked, nest: seen.open.nest })) : null)) : null;
  return part(t('crossed'), h('p', { class: 'soft' }, t('crossed.is')), begin,
    seen.crossed.length ? seen.crossed.map(found) : h('p', {}, t('crossed.none')));
}

const related = (each) => h('li', {}, t('relation.is', { gauge: each.gauge, nest: each.nest,
  ratio: each.ratio.toFixed(4), uncertainty: percent(2 * each.ratioStandardUncertainty / each.ratio),
  from: flux(each.fromTesla), to: flux(each.toTesla), n: each.magnets, shape: each.shape }));

function pairs(context, each, again) {
  const fits = each.ratio !== undefined;
  const title = t('pairs.of', { gauge: each.gauge, shape: each.shape, nest: each.nest });
  return h('div', { 'data-pairs': each.gauge }, h('h3', {}, title),
    each.magnets.length ? table(title, [t('sets.magnet'), t('pairs.nest'), t('pairs.hand'), t('pairs.ratio')],
      each.magnets.map((one) => [one.name, flux(one.nestTesla), flux(one.handTesla), one.ratio.toFixed(4)]),
      [1, 2, 3]) : '',
    each.leftOut.map((why) => h('p', { class: 'soft' }, t('pairs.left', { why }))),
    fits ? h('p', {}, t('pairs.found', { ratio: each.ratio.toFixed(4),
      uncertainty: percent(2 * each.ratioStandardUncertainty / each.ratio),
      scatter: percent(each.scatter) }), each.untested ? ` ${t('plan.mind', { what: each.untested })}.` : '')
      : h('p', {}, t('pairs.why', { why: each.why })),
    fits && context.mayPrepare() ? h('div', { class: 'row' }, h('button', { type: 'button',
      'data-act': 'relate', onclick: asking(context, '/gauge/relations',
        () => ({ gauge: each.gauge, nest: each.nest, shape: each.shape }), again) }, t('pairs.do'))) : null);
}

// A hand gauge beside the rig's own: each magnet read by both, and the relation found of them.
export function relation(context, seen, again) {
  const into = draft('typed', { magnet: '', gauge: '', reading: '' });
  const magnets = h('select', { id: 'typed-magnet', onchange: (event) => { into.magnet = event.target.value; } });
  context.link.read('/things?find=').then((things) => {
    const read = things.magnets.filter((each) => each.tesla !== undefined);
    if (!read.some((each) => each.name === into.magnet)) into.magnet = read[0]?.name ?? '';
    magnets.replaceChildren(...read.map((each) => h('option', { value: each.name,
      selected: each.name === into.magnet }, t('pairs.magnet', { name: each.name, level: flux(each.tesla) }))));
    if (form && !read.length) form.replaceWith(h('p', {}, t('pairs.unread')));
  }).catch(() => {});
  const form = context.mayPrepare() ? h('form', { onsubmit: asking(context, '/gauge/typed',
    () => ({ ...into }), () => { into.reading = ''; again(); }) },
  h('ol', { class: 'steps' }, ['pairs.step.rig', 'pairs.step.hand', 'pairs.step.more'].map((each) => h('li', {}, t(each)))),
  h('div', { class: 'row' },
    h('div', {}, h('label', { for: 'typed-magnet' }, t('sets.magnet')), magnets),
    field('typed-gauge', t('pairs.gauge'), into, 'gauge', { maxlength: '40', required: true }),
    field('typed-reading', t('pairs.reading'), into, 'reading', { maxlength: '40', required: true,
      placeholder: t('pairs.like') })),
  h('div', { class: 'row' }, h('button', { 'data-act': 'typed' }, t('pairs.typed')))) : null;
  return part(t('relation'),
    seen.relations.length ? h('ul', { class: 'plain' }, seen.relations.map(related))
      : h('p', {}, t('relation.none')), form, seen.pairs.map((each) => pairs(context, each, again)));
}
