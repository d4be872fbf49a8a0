// What a shop's own page would do: pass the visitor's language on, and the order a status address names.
const query = new URLSearchParams(location.search);
const language = query.get('lang');
const slip = document.querySelector('platen-order');

for (const link of document.querySelectorAll('nav a')) {
  if (link.getAttribute('hreflang') === (language ?? 'en')) link.setAttribute('aria-current', 'true');
}
if (slip) {
  if (language) slip.lang = language;
  const theme = query.get('theme');
  if (theme) slip.theme = theme;
  const number = query.get('number');
  if (number) {
    slip.orderNumber = number;
    slip.orderKey = query.get('key') ?? '';
  }
}
