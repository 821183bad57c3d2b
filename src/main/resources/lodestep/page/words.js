// Every text of the page comes from one bundle, so that another language is another file.
let words = {};

export async function loadWords(language) {
  const answer = await fetch(`/page/words.${language}.json`);
  words = await answer.json();
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

export const inUnit = (tesla) => (settings.unit === 'mT' ? tesla * 1e3 : tesla * 1e4);

export function pole(tesla) {
  if (Math.abs(tesla) < 5e-5) return t('pole.none');
  return tesla > 0 ? t('pole.north') : t('pole.south');
}

// A level in words: its size and which pole looks at the strings.
export const level = (tesla) => `${flux(Math.abs(tesla))}, ${pole(tesla)}`;

export const sentence = (text) =>
  text ? text[0].toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? '' : '.') : '';

export function span(seconds) {
  if (seconds < 90) return t('span.seconds', { n: Math.max(1, Math.round(seconds)) });
  if (seconds < 5400) return t('span.minutes', { n: Math.round(seconds / 60) });
  return t('span.hours', { n: (seconds / 3600).toFixed(1) });
}
