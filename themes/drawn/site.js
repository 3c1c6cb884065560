// What a page gains by a script: it prints, remembers its light, finds and
// sorts in the index, and shows which keynote a layer has. All else works
// without.
(() => {
  const all = (q, from = document) => [...from.querySelectorAll(q)];
  for (const e of all('.js')) e.hidden = false;
  document.getElementById('print')?.addEventListener('click', () => print());

  // Light: kept on this device. A browser may refuse to keep anything.
  const kept = (key, value) => {
    try { return value === undefined ? localStorage.getItem(key) : localStorage.setItem(key, value); } catch { return null; }
  };
  const light = document.getElementById('m-' + kept('light'));
  if (light) light.checked = true;
  for (const i of document.getElementsByName('m')) i.addEventListener('change', () => kept('light', i.id.slice(2)));

  // Keynotes: a layer and its bubble answer to each other.
  const keyed = all('[data-key]');
  const show = (e) => {
    const key = e.target.closest?.('[data-key]')?.dataset.key;
    for (const k of keyed) k.classList.toggle('on', key !== undefined && k.dataset.key === key);
  };
  if (keyed.length) for (const t of ['pointerover', 'focusin']) document.addEventListener(t, show, { passive: true });

  // Index.
  const table = document.querySelector('table.ix');
  if (!table) return;
  const q = document.getElementById('q'), count = document.getElementById('cnt');
  const groups = all('tbody.g', table), rows = all('tr.d', table);
  const words = new Map(rows.map((r) => [r, r.textContent.toLowerCase()]));
  const find = () => {
    const want = q.value.toLowerCase().split(/\s+/).filter(Boolean);
    for (const g of groups) g.classList.remove('off');
    for (const r of rows) r.classList.toggle('off', !want.every((x) => words.get(r).includes(x)));
    let shown = 0;
    for (const g of groups) {
      const n = all('tr.d', g).filter((r) => r.offsetParent !== null || getComputedStyle(r).display !== 'none').length;
      g.classList.toggle('off', n === 0);
      shown += n;
    }
    count.textContent = `${shown} of ${rows.length} details shown`;
  };
  const text = (r, c) => r.querySelector(c).textContent.trim();
  const order = ['issued', 'review', 'draft', 'superseded'];
  const status = (r) => order.findIndex((s) => r.classList.contains('ss-' + s));
  const compare = new Intl.Collator('en', { numeric: true }).compare;
  const by = {
    'so-Mark': (a, b) => compare(text(a, '.mk'), text(b, '.mk')),
    'so-Title': (a, b) => compare(text(a, '.ti a'), text(b, '.ti a')),
    'so-Figure': (a, b) => b.dataset.rank - a.dataset.rank,
    'so-Status': (a, b) => status(a) - status(b),
  };
  const sort = () => {
    const key = document.querySelector('[name=so]:checked')?.id;
    for (const g of groups) g.append(...all('tr.d', g).sort((a, b) => by[key](a, b) || by['so-Mark'](a, b)));
  };
  q.addEventListener('input', find);
  document.addEventListener('change', (e) => {
    if (e.target.name === 'so') sort();
    else if (e.target.closest('.filt')) find();
  });
  document.addEventListener('keydown', (e) => {
    if (e.key === '/' && !e.ctrlKey && !e.metaKey && !e.altKey && !e.target.closest('input,textarea')) { e.preventDefault(); q.focus(); }
  });
  if (q.value) find();
})();
