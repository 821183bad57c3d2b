import { h, limit, part, put } from './parts.js';
import { t, has, sentence, span, told } from './words.js';
import { table } from './shelf.js';

const count = (value) => value.toLocaleString(document.documentElement.lang);

const cells = (line) => line.trim().split(/\s{2,}/);

// One block of it: a table where each line has as many cells as its head, else names and what they are.
function block(lines) {
  const rows = lines.map(cells);
  const [head] = rows;
  if (head.length > 2 && rows.length > 1 && rows.every((each) => each.length === head.length)) {
    const [names, ...others] = rows.map((each) => each.map(told));
    return table(names[0], names, others, [], true);
  }
  return h('dl', {}, rows.flatMap(([name, ...rest]) => (rest.length
    ? [h('dt', {}, told(name)), h('dd', {}, rest.map(told).join(', '))] : [h('dt', {}, ''), h('dd', {}, told(name))])));
}

// The rig as its description was understood, block by block.
const understood = (words) => words.split(/\n\s*\n/)
  .map((each) => each.split('\n').filter((line) => line.trim())).filter((each) => each.length)
  .map(block);

export function rig(main, context) {
  const facts = h('dl', {});
  const show = (seen) => {
    wear(seen.contacts);
    bankHas(seen.bank);
    facts.replaceChildren(...seen.facts.flatMap((each) => [
      h('dt', {}, has(`fact.${each.what}`) ? t(`fact.${each.what}`) : each.what),
      h('dd', {}, told(each.how))]));
  };
  const heat = limit(t('heat'));
  const contacts = limit(t('contacts'));
  const heatIs = h('p', { class: 'soft' }, t('heat.is'));
  const contactsAre = h('p', { class: 'soft' });
  const bank = limit(t('bankleft'));
  const bankIs = h('p', { class: 'soft' });
  const budgets = part(t('budgets'), h('dl', {}, heat.nodes, contacts.nodes, bank.nodes),
    heatIs, contactsAre, bankIs);
  budgets.hidden = true;
  // Each pulse works the relays once; what the data sheet expects of them stands in rig.toml.
  const wear = (life) => {
    contacts.nodes.forEach((node) => { node.hidden = !life; });
    if (!life) return put(contactsAre, '');
    const figures = { worked: count(life.worked), expected: count(life.expected),
      percent: (100 * life.worked / life.expected).toFixed(1), since: life.newSince };
    contacts.show(t(life.expected ? 'contacts.said' : 'contacts.unsaid', figures)
      + (life.newSince ? `, ${t('contacts.since', figures)}` : ''),
    life.expected ? life.worked / life.expected : 0);
    contactsAre.className = life.nearlyOver ? 'note' : 'soft';
    return put(contactsAre, t(!life.expected ? 'contacts.name' : life.worked >= life.expected ? 'contacts.over'
      : life.nearlyOver ? 'contacts.nearly' : 'contacts.is'));
  };
  // Its proofs bleed it through a known resistor: how fast tells what it holds.
  const bankHas = (left) => {
    bank.nodes.forEach((node) => { node.hidden = !left; });
    if (!left) return put(bankIs, '');
    const known = left.left !== undefined;
    bank.show(t(known ? 'bankleft.said' : 'bankleft.few', { percent: (100 * (left.left ?? 1)).toFixed(1),
      proofs: left.proofs, from: left.from })
      + (left.newSince ? `, ${t('contacts.since', { since: left.newSince })}` : ''),
    known ? (1 - left.left) / left.lostAt : 0);
    bankIs.className = left.minds ? 'note' : 'soft';
    return put(bankIs, left.minds ? sentence(told(left.says)) : t('bankleft.is'));
  };
  main.append(h('div', { class: 'two' },
    part(t('rig.understood'), ...understood(context.rigSays().words)),
    h('div', {},
      budgets,
      part(t('rig.state'), facts),
      part(t('rig.who'), h('p', {}, t(context.mayPrepare() ? 'rig.prepare' : 'rig.look')),
        h('p', {}, t(context.rigSays().drives ? 'rig.fire' : 'rig.fire.alone'))))));
  show(context.rigSays());
  budgets.hidden = !context.rigSays().contacts;
  context.link.read('/rig').then(show).catch(() => {});
  return {
    now(seen) {
      const coil = seen.coil;
      const warms = coil?.heatMost !== undefined;
      heat.nodes.forEach((node) => { node.hidden = !warms; });
      heatIs.hidden = !warms;
      if (!warms) return;
      budgets.hidden = false;
      heat.show(t('heat.said', { used: Math.round(coil.heatJoules), most: Math.round(coil.heatMost),
        half: span(coil.halfSeconds) }), coil.heatJoules / coil.heatMost);
    },
  };
}
