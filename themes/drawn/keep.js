// What a page does to be at hand without a connection: it keeps what was
// looked at, keeps a set in one tap, and says what is new. From a disk it
// says what changed, and no more.
(() => {
  const { root } = wythe;
  const { mark, v } = document.body.dataset;
  const stored = (key, value) => {
    try { return value === undefined ? localStorage.getItem(key) : localStorage.setItem(key, value); } catch { return null; }
  };
  const day = (iso) => new Date(iso).toLocaleDateString('en-US', { day: 'numeric', month: 'short', year: 'numeric' });
  const make = (tag, set, ...inside) => {
    const e = Object.assign(document.createElement(tag), set);
    e.append(...inside);
    return e;
  };
  // Notices stand along the foot of the window, over nothing that moves.
  const bar = make('div', { className: 'news' });
  bar.setAttribute('role', 'status');
  document.body.append(bar);
  const say = (id, ...inside) => {
    bar.querySelector('[data-say=' + id + ']')?.remove();
    if (!inside.length) return;
    const line = make('p', {}, ...inside);
    line.dataset.say = id;
    const shut = make('button', { type: 'button', className: 'x' }, '×');
    shut.setAttribute('aria-label', 'Close this notice');
    shut.addEventListener('click', () => line.remove());
    line.append(shut);
    bar.append(line);
  };

  // Changed since you last looked.
  const seen = (m) => 'seen ' + root + m;
  if (mark && v) {
    const [was, when] = (stored(seen(mark)) ?? '').split(' ');
    if (was && was !== v) say('changed', `Changed since you last looked, on ${day(when)}. See its revisions.`);
    stored(seen(mark), v + ' ' + new Date().toISOString());
  }
  for (const r of document.querySelectorAll('tr.d[data-v]')) {
    const was = (stored(seen(r.querySelector('.mk').textContent.trim())) ?? '').split(' ')[0];
    if (was && was !== r.dataset.v) r.querySelector('.ti').append(make('span', { className: 'upd' }, 'Changed since you last looked'));
  }

  const serviceWorker = navigator.serviceWorker;
  if (!serviceWorker || !location.protocol.startsWith('http') || document.querySelector('script[src$="preview.js"]')) return;
  document.head.append(make('link', { rel: 'manifest', href: root + 'app.webmanifest' }), make('link', { rel: 'apple-touch-icon', href: root + 'app-192.png' }));

  const tell = (worker, what, said) => new Promise((done, fail) => {
    const line = new MessageChannel();
    line.port1.onmessage = ({ data }) => {
      if ('done' in data) said?.(data);
      else if ('fault' in data) fail(new Error(data.fault));
      else done(data.result);
    };
    worker.postMessage(what, [line.port2]);
  });
  const news = async () => {
    const r = await fetch(root + 'offline.json', { cache: 'no-store' });
    if (!r.ok) throw new Error('no news');
    return r.json();
  };
  const size = (bytes) => (bytes < 1e6 ? Math.ceil(bytes / 1e3) + ' KB' : (bytes / 1e6).toFixed(1) + ' MB');

  // One tap keeps a set; its size stands on the button.
  const cell = document.getElementById('keep');
  const offer = async (registration, told) => {
    const here = location.href.slice(root.length).replace(/[^/]*$/, '').replace(/[?#].*/, '');
    const kit = told.kits.find((k) => k.id === here) ?? (document.getElementById('q') ? told.kits[0] : null);
    if (!kit || !cell) return;
    const what = kit.id === 'all' ? 'the whole library' : 'this building’s set';
    const draw = async () => {
      const worker = registration.active;
      const state = await tell(worker, { work: 'state', url: location.href });
      const when = state.kits[kit.id];
      const note = make('p', { className: 'sub' }, when ? `Kept on ${day(when)}: ${what}, ${size(kit.bytes)}.` : `${kit.files} files, kept on this device alone.`);
      note.setAttribute('role', 'status');
      const button = make('button', { type: 'button', className: 'btn', id: 'keep-it' }, when ? 'Remove from this device' : `Keep ${what}, ${size(kit.bytes)}`);
      button.addEventListener('click', async () => {
        button.disabled = true;
        try {
          if (when) await tell(worker, { work: 'drop', kit, others: told.kits });
          else {
            navigator.storage?.persist?.();
            await tell(worker, { work: 'keep', kit }, ({ done, total }) => { button.textContent = `${done} of ${total}`; });
          }
          await draw();
        } catch (e) {
          button.disabled = false;
          button.textContent = 'Try again';
          note.textContent = `Not kept: ${e.message}.`;
        }
      });
      cell.replaceChildren(make('span', { className: 'k' }, 'Without a connection'), button, note);
      cell.hidden = false;
    };
    await draw();
  };

  const look = async (registration) => {
    const state = registration.active && await tell(registration.active, { work: 'state', url: location.href });
    let told;
    try { told = await news(); } catch {
      say('news');
      say('off', state?.kept ? `No connection. This page was kept on ${day(state.kept)}.` : 'No connection.');
      return null;
    }
    say('off');
    if (state && told.generation !== state.generation) registration.update().catch(() => {});
    if (mark && mark in told.superseded && !document.querySelector('.st-superseded')) {
      const by = told.superseded[mark];
      say('superseded', make('b', {}, 'Superseded. '), by ? `Use ${by} for new work.` : 'Do not use it for new work.');
    }
    return told;
  };
  // A new publish waits until it is asked for, or all tabs are closed.
  const wait = (registration) => {
    const ready = () => {
      if (!registration.waiting || !serviceWorker.controller) return;
      const show = make('button', { type: 'button', className: 'btn', id: 'show-new' }, 'Show it');
      show.addEventListener('click', () => {
        show.disabled = true;
        registration.waiting?.postMessage({ work: 'take' });
        // The old worker stays while it has anything in hand.
        setTimeout(() => say('news', 'The new issue comes when the other pages of the library are closed.'), 4000);
      });
      say('news', 'A new issue of the library is here. ', show);
    };
    ready();
    registration.addEventListener('updatefound', () => {
      registration.installing?.addEventListener('statechange', ready);
    });
  };
  const had = serviceWorker.controller;
  serviceWorker.addEventListener('controllerchange', () => { if (had) location.reload(); });
  const start = async () => {
    const registration = await serviceWorker.register(root + 'sw.js', { scope: root, updateViaCache: 'none' });
    wait(registration);
    await serviceWorker.ready;
    if (!had) await tell(registration.active, { work: 'visit', urls: [location.href, ...performance.getEntriesByType('resource').map((r) => r.name)] });
    const told = await look(registration);
    if (told) await offer(registration, told);
    document.body.dataset.kept = 'yes';
    for (const e of ['online', 'offline']) addEventListener(e, () => look(registration).catch(() => {}));
  };
  const begin = () => start().catch(() => { /* no worker here: the page reads as well without */ });
  if (document.readyState === 'complete') begin();
  else addEventListener('load', begin);
})();
