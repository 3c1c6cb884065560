// What a page gains by a script: it prints, remembers its light, finds and
// sorts in the index, and shows which keynote a layer has. All else works
// without.
// What scripts share: files loaded by script give what they hold, which works
// from a disk too.
globalThis.wythe = (() => {
  const root = document.currentScript.src.replace(/assets\/[^/]*$/, '');
  const got = {}, loading = {};
  const load = (path) => (loading[path] ??= new Promise((done, fail) => {
    const s = document.createElement('script');
    s.src = root + path;
    s.onload = done;
    s.onerror = () => { delete loading[path]; s.remove(); fail(new Error(path)); };
    document.head.append(s);
  }));
  const give = (name, data) => { got[name] = data; };
  // The search, loaded once it is wanted.
  const search = async () => {
    await load('search.js');
    await load(got.pointer.index);
    await load(got.pointer.engine);
    return wythe;
  };
  return { root, got, load, give, search };
})();
(() => {
  const all = (q, from = document) => [...from.querySelectorAll(q)];
  document.getElementById('print')?.addEventListener('click', () => print());

  // Find: on each page but the index, which has a field of its own.
  const seek = async () => {
    try { (await wythe.search()).open(); } catch { location.href = wythe.root + 'index.html'; }
  };
  for (const b of all('[data-find]')) b.addEventListener('click', seek);
  document.addEventListener('keydown', (e) => {
    if (e.key !== '/' || e.ctrlKey || e.metaKey || e.altKey || e.target.closest('input,textarea,dialog')) return;
    e.preventDefault();
    const field = document.getElementById('q');
    if (field) field.focus();
    else seek();
  });

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
  const q = document.getElementById('q'), count = document.getElementById('cnt');
  if (!q) return;
  const groups = all('tbody.g'), rows = all('tr.d'); // none on the first page of an index in parts
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
    if (count) count.textContent = `${shown} of ${rows.length} details shown`;
    also();
  };
  // What is found elsewhere: in the texts, spelled nearly so, on other pages.
  const more = document.getElementById('also');
  const also = async () => {
    const text = q.value;
    if (!more || !text.trim() && more.hidden) return;
    try { await wythe.search(); } catch { return; }
    const list = more.querySelector('ul');
    if (!list.dataset.q) wythe.walk(more.parentElement, q, list);
    const seen = new Set(rows.filter((r) => !r.classList.contains('off')).map((r) => cellText(r, '.mk')));
    more.hidden = !text.trim();
    await wythe.run(list, more.querySelector('.say'), text, (r) => r.kind === 'detail' && seen.has(r.mark));
    if (!list.firstChild && q.value === text && seen.size) more.hidden = true;
  };
  const cellText = (r, c) => r.querySelector(c).textContent.trim();
  const order = ['issued', 'review', 'draft', 'superseded'];
  const status = (r) => order.findIndex((s) => r.classList.contains('ss-' + s));
  const compare = new Intl.Collator('en', { numeric: true }).compare;
  const by = {
    'so-Mark': (a, b) => compare(cellText(a, '.mk'), cellText(b, '.mk')),
    'so-Title': (a, b) => compare(cellText(a, '.ti a'), cellText(b, '.ti a')),
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
  if (q.value) find();
})();
