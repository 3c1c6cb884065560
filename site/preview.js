// Keeps an open page as its file is: what changed is changed in place, so that
// scroll, toggles and focus stay. Served by the preview alone.
(() => {
  const hash = document.currentScript.dataset.hash;
  // Attributes that the reader or the page's own script set.
  const kept = new Set(['open', 'checked', 'hidden', 'value']);
  const same = (a, b) => a.nodeType === b.nodeType && a.nodeName === b.nodeName && (a.id || '') === (b.id || '');
  const morph = (was, is) => {
    if (was.nodeType !== 1) {
      if (was.nodeValue !== is.nodeValue) was.nodeValue = is.nodeValue;
      return;
    }
    if (was.isEqualNode(is)) return;
    for (const { name } of [...was.attributes]) if (!is.hasAttribute(name) && !kept.has(name)) was.removeAttribute(name);
    for (const { name, value } of is.attributes) if (!kept.has(name) && was.getAttribute(name) !== value) was.setAttribute(name, value);
    const next = [...is.childNodes];
    let at = was.firstChild;
    for (const n of next) {
      if (at && same(at, n)) {
        const after = at.nextSibling;
        morph(at, n);
        at = after;
      } else {
        was.insertBefore(document.importNode(n, true), at);
        if (at && was.childNodes.length > next.length) {
          const gone = at;
          at = at.nextSibling;
          gone.remove();
        }
      }
    }
    while (at) {
      const gone = at;
      at = at.nextSibling;
      gone.remove();
    }
  };

  const refresh = async () => {
    const answer = await fetch(location.pathname, { cache: 'no-store' });
    const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
    const sources = (d) => [...d.querySelectorAll('script[src],link[rel=stylesheet]')].map((e) => e.getAttribute('src') || e.getAttribute('href')).join();
    if (sources(fresh) !== sources(document)) {
      location.reload();
      return;
    }
    const { scrollX, scrollY } = window;
    document.title = fresh.title;
    morph(document.body, fresh.body);
    window.scrollTo({ left: scrollX, top: scrollY, behavior: 'instant' });
    document.documentElement.dataset.refreshed = performance.timeOrigin + performance.now();
  };

  const element = (name, className, text) => {
    const e = document.createElement(name);
    if (className) e.className = className;
    if (text !== undefined) e.textContent = text;
    return e;
  };
  const panel = element('aside');
  panel.id = 'wythe-preview';
  panel.setAttribute('aria-label', 'Findings');
  panel.hidden = true;
  document.documentElement.append(panel);

  const count = (n, word) => `${n} ${word}${n === 1 ? '' : 's'}`;
  const show = (n) => {
    const was = panel.querySelector('details');
    panel.hidden = !n.stale && !n.errors && !n.warnings && !n.fault;
    panel.className = n.errors || n.stale ? '' : 'calm';
    const box = element('details');
    box.open = n.errors > 0 || n.stale || (was && was.open && !panel.classList.contains('error'));
    const words = [n.errors && count(n.errors, 'error'), n.warnings && count(n.warnings, 'warning')].filter(Boolean).join(', ');
    const head = element('summary', '', n.fault || words || 'Findings');
    if (n.stale) head.append(element('span', 'stale', n.since ? `Stale: this page is as it last stood, at ${n.since}` : 'Nothing can be shown yet'));
    box.append(head);
    const list = element('ol');
    for (const f of n.findings) {
      const item = element('li', f.level);
      item.append(element('span', 'place', f.place), ' ', element('span', 'level', f.level), ': ', element('span', 'message', f.message));
      if (f.mend) item.append(element('div', 'mend', f.mend));
      if (f.lines) {
        const code = element('pre');
        for (const l of f.lines) code.append(element('span', l.at ? 'at' : '', `${String(l.n).padStart(4)}  ${l.text}`));
        item.append(code);
      }
      list.append(item);
    }
    box.append(list);
    panel.replaceChildren(box);
  };

  const page = encodeURIComponent(decodeURIComponent(location.pathname));
  const news = new EventSource(`/.preview/events?page=${page}&hash=${hash}`);
  let turn = Promise.resolve();
  news.addEventListener('page', () => { turn = turn.then(refresh, refresh); });
  news.addEventListener('findings', (e) => show(JSON.parse(e.data)));
})();
