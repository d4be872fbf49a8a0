// What a shop's own page does: shows its texts in the visitor's language, and tells the slip which order to show.
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
  // Attributes work before and after the slip's code has arrived.
  if (language) slip.lang = language;
  const statusPage = slip.getAttribute('status-page');
  if (own && statusPage) slip.setAttribute('status-page', `${statusPage}&lang=${language}`);
  const theme = query.get('theme');
  if (theme === 'light' || theme === 'dark') {
    document.documentElement.dataset.theme = theme;
    slip.setAttribute('theme', theme);
  }
  const number = query.get('number');
  if (number) {
    slip.setAttribute('order-number', number);
    slip.setAttribute('order-key', query.get('key') ?? '');
  }
}
