import { h, put } from './parts.js';
import { t } from './words.js';

const WAIT_MS = 15000;

// Lid, key, pedal and nest of a virtual rig, drawn: on a real one they are at the bench.
export function hands(context) {
  const box = h('section', { class: 'part drawn', hidden: true, 'aria-labelledby': 'drawn' });
  const buttons = {};
  let busy = false;

  const act = (name) => context.ask('/hands', { act: name });

  const until = (good) => new Promise((resolve) => {
    const from = performance.now();
    const look = () => {
      if (good(context.link.state.now)) resolve(true);
      else if (performance.now() - from > WAIT_MS) resolve(false);
      else requestAnimationFrame(look);
    };
    look();
  });

  async function step(name, good) {
    const answer = await act(name);
    return answer.done && until(good);
  }

  // What a winder's hands do for one magnet, one after the other.
  async function allOfIt() {
    if (busy) return;
    busy = true;
    const seen = () => context.link.state.now;
    let fine = true;
    const ready = ['load', 'hands'];
    if (!ready.includes(seen().phase) && seen().inputs.seat) {
      if (fine && !seen().inputs.lidOpen) fine = await step('open-lid', (n) => n.inputs.lidOpen);
      if (fine) fine = await step('take-out', (n) => !n.inputs.seat);
    }
    if (fine) fine = await until((n) => n.phase === 'load' || n.phase === 'done');
    if (fine && seen().phase !== 'done') {
      if (!seen().inputs.seat) {
        if (!seen().inputs.lidOpen) fine = await step('open-lid', (n) => n.inputs.lidOpen);
        if (fine) fine = await step('put-in', (n) => n.inputs.seat);
      }
      if (fine && !seen().inputs.lid) fine = await step('close-lid', (n) => n.inputs.lid);
      if (fine && !seen().inputs.key) fine = await step('key-on', (n) => n.inputs.key);
      if (fine) await act('pedal');
    }
    busy = false;
  }

  // With nothing under way a magnet is drawn to be read live; none of it goes on record.
  async function another() {
    if (busy) return;
    busy = true;
    let fine = inputs().lidOpen || await step('open-lid', (n) => n.inputs.lidOpen);
    if (fine && inputs().seat) fine = await step('take-out', (n) => !n.inputs.seat);
    if (fine) await step('put-in', (n) => n.inputs.seat);
    busy = false;
  }

  // The same where readings are guided: what is asked is done, and said.
  async function asIsAsked() {
    if (busy) return;
    busy = true;
    const seen = () => context.link.state.now;
    let fine = true;
    if (!seen().inputs.lidOpen) fine = await step('open-lid', (n) => n.inputs.lidOpen);
    if (seen().guides === 'hand') {
      // What was laid in before is taken out first. She says by herself that it is done, and takes
      // the opposing magnet away at the word.
      if (fine && seen().inputs.seat && seen().ask === 'leave_empty') fine = await step('take-out', (n) => !n.inputs.seat);
      if (fine) await act('as-asked');
      busy = false;
      return;
    }
    if (fine && seen().inputs.seat && seen().ask !== 'look') fine = await step('take-out', (n) => !n.inputs.seat);
    if (fine && seen().ask === 'seat') fine = await step('put-in', (n) => n.inputs.seat);
    if (fine) await context.ask('/commands', { what: 'continue' });
    busy = false;
  }

  const guided = () => ['guided', 'reading'].includes(context.link.state.now.phase);

  function button(name, onclick, first) {
    buttons[name] = h('button', {
      type: 'button', class: first ? 'first' : null, 'data-hand': name, onclick,
    }, t(`hand.${name}`));
    return buttons[name];
  }

  function turned(name, on, off, isOn) {
    return button(name, () => act(isOn() ? off : on));
  }

  const drives = () => context.rigSays().drives;

  const inputs = () => context.link.state.now.inputs;

  function build() {
    box.replaceChildren(
      h('h2', { id: 'drawn' }, t('hand')),
      is,
      h('div', { class: 'row' },
        button('all', () => (rests ? another() : guided() ? asIsAsked() : allOfIt()), true),
        turned('magnet', 'put-in', 'take-out', () => inputs().seat),
        turned('lid', 'close-lid', 'open-lid', () => inputs().lid),
        turned('key', 'key-on', 'key-off', () => inputs().key),
        button('pedal', () => act('pedal'))));
  }

  let said = '';
  let rests = false;
  const is = h('p', { class: 'soft' });

  function now(seen, here, resting) {
    const nothing = !resting && (seen.phase === 'idle' || (seen.phase === 'done' && !seen.inputs.seat));
    const wanted = here && seen.virtual && context.mayPrepare() && !nothing;
    if (wanted && !buttons.all) build();
    if (box.hidden === wanted) box.hidden = !wanted;
    if (!wanted) return;
    const key = `${seen.inputs.seat}${seen.inputs.lid}${seen.inputs.key}${seen.phase}${seen.ask}${resting}`;
    if (key === said) return;
    said = key;
    rests = resting;
    put(is, t(resting ? 'hand.is.resting' : drives() ? 'hand.is' : 'hand.is.alone'));
    const of = guided() ? `.${seen.guides}` : '';
    const byHand = guided() && seen.guides === 'hand';
    buttons.all.textContent = t(resting ? 'hand.all.resting' : !guided() ? 'hand.all'
      : byHand && seen.ask === 'closer' ? 'hand.all.closer' : 'hand.all.asked');
    buttons.all.hidden = seen.phase === 'done' && !resting;
    buttons.magnet.hidden = byHand || (resting && !seen.inputs.seat);
    buttons.magnet.textContent = t((seen.inputs.seat ? 'hand.take-out' : 'hand.put-in') + (byHand ? '' : of));
    buttons.lid.textContent = t(seen.inputs.lid ? 'hand.open-lid' : 'hand.close-lid');
    buttons.key.textContent = t(seen.inputs.key ? 'hand.key-off' : 'hand.key-on');
    buttons.lid.hidden = !drives();
    buttons.key.hidden = !drives() || resting || guided() || seen.guides === 'hand';
    buttons.pedal.hidden = buttons.key.hidden;
    const may = resting || ['load', 'verdict', 'zero', 'guided'].includes(seen.phase);
    buttons.all.dataset.dead = String(!may);
    buttons.magnet.dataset.dead = String(!seen.inputs.lidOpen);
  }

  return { box, now };
}
