import { h, limit, part } from './parts.js';
import { t, has, span } from './words.js';

// The rig as its description was understood: lines of a name and what it is.
function understood(words) {
  const lines = words.split('\n').filter((each) => each.trim());
  return h('dl', {}, lines.flatMap((line) => {
    const [name, ...rest] = line.trim().split(/\s{2,}/);
    return rest.length
      ? [h('dt', {}, name), h('dd', {}, rest.join(', '))]
      : [h('dt', {}, ''), h('dd', {}, name)];
  }));
}

export function rig(main, context) {
  const facts = h('dl', {});
  const show = (seen) => {
    facts.replaceChildren(...seen.facts.flatMap((each) => [
      h('dt', {}, has(`fact.${each.what}`) ? t(`fact.${each.what}`) : each.what),
      h('dd', {}, each.how)]));
  };
  const heat = limit(t('heat'));
  const budgets = part(t('budgets'), h('dl', {}, heat.nodes), h('p', { class: 'soft' }, t('heat.is')));
  budgets.hidden = true;
  main.append(h('div', { class: 'two' },
    part(t('rig.understood'), understood(context.rigSays().words)),
    h('div', {},
      budgets,
      part(t('rig.state'), facts),
      part(t('rig.who'), h('p', {}, t(context.mayPrepare() ? 'rig.prepare' : 'rig.look')),
        h('p', {}, t(context.rigSays().drives ? 'rig.fire' : 'rig.fire.alone'))))));
  show(context.rigSays());
  context.link.read('/rig').then(show).catch(() => {});
  return {
    now(seen) {
      const coil = seen.coil;
      budgets.hidden = coil?.heatMost === undefined;
      if (budgets.hidden) return;
      heat.show(t('heat.said', { used: Math.round(coil.heatJoules), most: Math.round(coil.heatMost),
        half: span(coil.halfSeconds) }), coil.heatJoules / coil.heatMost);
    },
  };
}
