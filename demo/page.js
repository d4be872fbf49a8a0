// What a shop's own page would do: speak the visitor's language, and name the order a status address is about.
import { words } from './words.js';

const query = new URLSearchParams(location.search);
const language = query.get('lang');
const slip = document.querySelector('platen-order');

for (const link of document.querySelectorAll('nav a')) {
  if (link.getAttribute('hreflang') === (language ?? 'en')) link.setAttribute('aria-current', 'true');
}
const own = Object.hasOwn(words, language ?? '') ? words[language] : null;
if (own) {
  document.documentElement.lang = language;
  document.documentElement.dir = language === 'ar' ? 'rtl' : 'ltr';
  for (const place of document.querySelectorAll('[data-say]')) place.textContent = own[place.dataset.say];
}
if (slip) {
  if (language) slip.lang = language;
  if (own && slip.statusPage) slip.statusPage += `&lang=${language}`;
  const theme = query.get('theme');
  if (theme === 'light' || theme === 'dark') {
    document.documentElement.dataset.theme = theme;
    slip.theme = theme;
  }
  const number = query.get('number');
  if (number) {
    slip.orderNumber = number;
    slip.orderKey = query.get('key') ?? '';
  }
}
