// Every text of the page comes from one bundle, so that another language is another file.
let words = {};
let said = (text) => text;

export async function loadWords(language) {
  const read = async (which) => (await fetch(`/page/words.${which}.json`)).json();
  words = await read(language);
  said = teller(language === 'en' ? words : await read('en'), words);
}

const bare = (text) => text.replace(/\.$/, '');
const stopped = (text, like) => (like.endsWith('.') ? `${bare(text)}.` : text);
// With less of its own than this a form fits too much: it is tried when nothing else fits.
const OWN_LETTERS = 8;
// What stands for a part of one sentence, and not for a sentence more.
const ALONE = '((?:(?!; |\\. [A-Z0-9]).)+?)';

// The rig speaks English. Each of its sentences stands in the bundle as says.…, its parts in braces:
// it is known again by its English form, and told as the other bundle has it, parts and all.
export function teller(english, other) {
  if (english === other) return (text) => text;
  const forms = Object.entries(english).filter(([key]) => key.startsWith('says.')).map(([key, form]) => {
    const between = bare(form).split(/\{\w+\}/);
    const own = between.map((each) => each.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
    const fitting = (part) => new RegExp(`^${own.join(part)}$`, 's');
    return {
      key,
      names: [...form.matchAll(/\{(\w+)\}/g)].map((each) => each[1]),
      own: between.join('').length,
      fits: fitting('(.+?)'),
      alone: fitting(ALONE),
    };
  }).sort((a, b) => b.own - a.own);
  const known = (text, among, how = 'fits') => {
    const form = among.find((each) => each[how].test(bare(text)));
    if (!form) return undefined;
    const parts = form[how].exec(bare(text)).slice(1);
    return stopped((other[form.key] ?? english[form.key]).replace(/\{(\w+)\}/g,
      (all, name) => (form.names.includes(name) ? tell(parts[form.names.indexOf(name)]) : all)), text);
  };
  const loose = forms.filter((each) => each.own < OWN_LETTERS);
  const firm = forms.filter((each) => each.own >= OWN_LETTERS);
  const whole = forms.filter((each) => !each.names.length);
  // What follows one another is told one after the other, as much of it at once as there is a form for.
  const apart = (text, between, join, how) => {
    const pieces = text.split(between);
    for (let first = pieces.length - 1; first > 0; first--) {
      const head = pieces.slice(0, first).join(join);
      const told = known(head, first === 1 ? forms : firm, how);
      if (told !== undefined) return told + join + tell(pieces.slice(first).join(join));
    }
    return undefined;
  };
  // What is said of one thing, after its name, may be a whole with a semicolon in it.
  const ofOne = (text) => {
    const at = text.indexOf(': ') + 2;
    const told = at < 2 ? undefined : known(text.slice(at), firm);
    return told === undefined ? undefined : text.slice(0, at) + told;
  };
  const sentences = (text, how) => apart(text, /(?<=\.) (?=[A-Z0-9])/, ' ', how) ?? apart(text, /; /, '; ', how);
  // Words with commas between, each of which has a form of its own.
  const listed = (text) => {
    const told = text.split(', ').map((each) => known(each, whole));
    return told.length > 1 && told.every((each) => each !== undefined) ? told.join(', ') : undefined;
  };
  // Where no part swallows a sentence that has a form of its own; then any way.
  function tell(text) {
    return known(text, firm, 'alone') ?? ofOne(text) ?? sentences(text, 'alone')
      ?? known(text, firm) ?? sentences(text, 'fits') ?? listed(text) ?? known(text, loose) ?? text;
  }
  return tell;
}

export function t(key, values = {}) {
  const text = words[key];
  if (text === undefined) throw new Error(`no words for ${key}`);
  return text.replace(/\{(\w+)\}/g, (all, name) => (name in values ? values[name] : all));
}

export function has(key) {
  return key in words;
}

const kept = (name, usual) => {
  try { return localStorage.getItem(name) ?? usual; } catch { return usual; }
};

export const settings = {
  unit: kept('unit', 'G'),
  light: kept('light', 'auto'),
  set(name, value) {
    this[name] = value;
    try { localStorage.setItem(name, value); } catch { /* a private window keeps nothing */ }
  },
};

const fixed = (value, digits) => {
  const text = Math.abs(value).toFixed(digits);
  return (value < 0 && Number(text) !== 0 ? '\u2212' : '') + text;
};

// Flux density, gauss first, millitesla by a switch; signed.
export function flux(tesla) {
  return settings.unit === 'mT' ? `${fixed(tesla * 1e3, 2)} mT` : `${fixed(tesla * 1e4, 1)} G`;
}

// Gauss in a sentence of the rig's, as the switch has it.
const inSwitchedUnit = (text) => (settings.unit !== 'mT' ? text
  : text.replace(/(\d[\d,]*)(\.\d+)? G\b/g, (all, whole, part = '') => {
    const gauss = Number(whole.replace(/,/g, '') + part);
    return `${(gauss / 10).toFixed(Math.max(1, part.length))} mT`;
  }));

// What the program says, in the words of the bundle.
export const translated = (text) => (text ? said(text) : text);

// The same in the unit of the switch.
export const told = (text) => (text ? inSwitchedUnit(said(text)) : text);

export const inUnit = (tesla) => (settings.unit === 'mT' ? tesla * 1e3 : tesla * 1e4);

export function pole(tesla) {
  if (Math.abs(tesla) < 5e-5) return t('pole.none');
  return tesla > 0 ? t('pole.north') : t('pole.south');
}

// A level in words: its size and which pole looks at the strings.
export const level = (tesla) => `${flux(Math.abs(tesla))}, ${pole(tesla)}`;

export const sentence = (text) =>
  text ? text[0].toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? '' : '.') : '';

// To five seconds below a minute and a half: what is expected does not jump with every second.
export const steady = (seconds) => (seconds < 90 ? Math.max(5, Math.ceil(seconds / 5) * 5) : seconds);

const inUnits = (seconds) => {
  if (seconds < 90) return ['span.seconds', Math.max(1, Math.round(seconds))];
  return seconds < 5400 ? ['span.minutes', Math.round(seconds / 60)] : ['span.hours', (seconds / 3600).toFixed(1)];
};

export function span(seconds) {
  const [unit, n] = inUnits(seconds);
  return t(unit, { n });
}

// From one span to another, the unit said once where it is the same.
export function between(least, most) {
  const [[unit, n], [other, m]] = [inUnits(least), inUnits(most)];
  if (unit !== other) return t('span.between', { least: span(least), most: span(most) });
  return n === m ? t('span.about', { span: span(most) }) : t(unit, { n: t('span.between', { least: n, most: m }) });
}
