// The sequence as a checklist: one step at a time, by trade, ticked and
// initialed. What is ticked stays on this device; it leaves it as a file that
// somebody saves, or on paper.
(() => {
  const section = document.getElementById('sequence');
  const list = section?.querySelector('.seq');
  if (!list) return;
  const steps = [...list.children];
  const key = 'ticks ' + wythe.root + (document.body.dataset.mark ?? location.pathname);
  // A tick holds for the words it was set at: a step that changed is open again.
  const says = (li) => {
    let h = 7;
    for (const c of li.querySelector('.body').textContent) h = (h * 31 + c.codePointAt(0)) | 0;
    return (h >>> 0).toString(36);
  };
  let ticks = {};
  try { ticks = JSON.parse(localStorage.getItem(key) ?? '{}'); } catch { /* what cannot be read is not there */ }
  const save = () => { try { localStorage.setItem(key, JSON.stringify(ticks)); } catch { did.textContent = 'This browser keeps nothing: print or save before you close the page.'; } };
  const make = (tag, set, ...inside) => {
    const e = Object.assign(document.createElement(tag), set);
    e.append(...inside);
    return e;
  };
  const time = (iso) => new Date(iso).toLocaleString('en-US', { day: 'numeric', month: 'short', year: 'numeric', hour: 'numeric', minute: '2-digit' });
  const did = make('p', { className: 'did' });
  did.setAttribute('role', 'status');
  const is = (li, name) => !!ticks[li.dataset.says]?.[name];
  const open = make('p', { className: 'bad open' });
  open.setAttribute('role', 'status');
  const count = () => {
    did.textContent = `${steps.filter((s) => is(s, 'done')).length} of ${steps.length} steps done`;
    // A hold that the work has gone past without a release.
    const past = steps.filter((s, i) => s.querySelector('.hold') && !is(s, 'hold') && steps.slice(i).some((t) => is(t, 'done')));
    open.textContent = past.length ? `Not released: hold at step ${past.map((s) => steps.indexOf(s) + 1).join(', ')}` : '';
    open.hidden = !past.length;
  };
  const set = (id, name, value) => {
    const t = { ...ticks[id] };
    if (value) Object.assign(t, { [name]: value, [name + 'At']: new Date().toISOString() });
    else { delete t[name]; delete t[name + 'At']; }
    ticks[id] = t;
    if (!Object.keys(t).length) delete ticks[id];
    save();
  };
  const when = [];
  steps.forEach((li, i) => {
    const id = li.dataset.says = says(li) + '-' + (i + 1), body = li.querySelector('.body');
    const hold = li.querySelector('.hold');
    let initials;
    if (hold) {
      initials = make('input', { type: 'text', maxLength: 6, autocomplete: 'off', value: ticks[id]?.hold ?? '' });
      const at = make('span', { className: 'at' });
      body.append(make('label', { className: 'tick init' }, 'Released, initials ', initials, at));
      initials.setAttribute('aria-label', `Step ${i + 1}: initials of who released the hold`);
      const draw = () => { at.textContent = ticks[id]?.holdAt ? time(ticks[id].holdAt) : ''; };
      initials.addEventListener('change', () => { set(id, 'hold', initials.value.trim().toUpperCase()); draw(); count(); });
      draw();
      when.push(() => { initials.value = ticks[id]?.hold ?? ''; draw(); });
    }
    const box = make('input', { type: 'checkbox', checked: !!ticks[id]?.done });
    const at = make('span', { className: 'at' });
    box.setAttribute('aria-label', `Step ${i + 1} done`);
    body.append(make('label', { className: 'tick' }, box, 'Done', at));
    const draw = () => { at.textContent = ticks[id]?.doneAt ? time(ticks[id].doneAt) : ''; };
    box.addEventListener('change', () => { set(id, 'done', box.checked); draw(); show(); });
    draw();
    when.push(() => { box.checked = !!ticks[id]?.done; draw(); });
  });

  // By trade.
  const bar = make('div', { className: 'seqbar' }, did, open);
  const trades = [...new Set(steps.map((s) => s.dataset.trade).filter(Boolean))];
  let trade = '', at = 0;
  const mine = () => steps.filter((s) => !trade || s.dataset.trade === trade);
  const show = () => {
    const some = mine();
    at = Math.max(0, Math.min(at, some.length - 1));
    for (const s of steps) {
      s.classList.toggle('away', !some.includes(s));
      s.classList.toggle('here', s === some[at]);
    }
    back.disabled = at === 0;
    on.disabled = at === some.length - 1;
    count();
    const done = is(some[at], 'done');
    tick.textContent = done ? '✓ Done' : 'Done';
    tick.setAttribute('aria-pressed', done);
    if (list.classList.contains('one')) did.textContent = `Step ${steps.indexOf(some[at]) + 1} of ${steps.length}, ${did.textContent.replace(/ of .*/, ' done')}`;
  };
  if (trades.length > 1) {
    const chips = make('div', { className: 'chips' });
    for (const t of ['', ...trades]) {
      const input = make('input', { type: 'radio', name: 'seq-trade', checked: !t });
      input.addEventListener('change', () => { trade = t; at = 0; show(); });
      chips.append(make('label', {}, input, t ? t[0].toUpperCase() + t.slice(1) : 'All trades'));
    }
    chips.setAttribute('role', 'radiogroup');
    chips.setAttribute('aria-label', 'Steps of a trade');
    bar.append(chips);
  }
  const foot = make('div', { className: 'seqbar thumb', hidden: true }); // at the foot of the screen, near the thumb
  const button = (text, id, act, where = bar) => {
    const b = make('button', { type: 'button', className: 'btn', id }, text);
    b.addEventListener('click', act);
    where.append(b);
    return b;
  };
  const see = (e) => e.scrollIntoView({ block: 'start', behavior: 'instant' });
  const one = button('One step at a time', 'seq-one', () => {
    const on_ = list.classList.toggle('one');
    section.classList.toggle('stepping', on_);
    document.body.classList.toggle('thumbed', on_);
    one.textContent = on_ ? 'All steps' : 'One step at a time';
    foot.hidden = !on_;
    if (on_) at = Math.max(0, mine().findIndex((s) => !is(s, 'done')));
    show();
    see(on_ ? section : steps.find((s) => s.classList.contains('here')));
  });
  const go = (by) => { at += by; show(); see(section); };
  const back = button('Back', 'seq-back', () => go(-1), foot);
  const tick = button('Done', 'seq-done', () => mine()[at].querySelector('.tick input[type=checkbox]').click(), foot);
  const on = button('Next', 'seq-next', () => go(1), foot);
  button('Print checklist', 'seq-print', () => {
    document.body.classList.add('checking');
    addEventListener('afterprint', () => document.body.classList.remove('checking'), { once: true });
    print();
  });
  const plain = (e) => e.textContent.replace(/\s+/g, ' ').trim();
  const text = () => {
    const title = [document.body.dataset.mark, document.querySelector('h1')?.textContent].filter(Boolean).join(' ');
    const rows = steps.map((s, i) => {
      const t = ticks[s.dataset.says] ?? {};
      const hold = s.querySelector('.hold');
      return `[${t.done ? 'x' : ' '}] ${i + 1}. ${s.dataset.trade ? s.dataset.trade + ': ' : ''}${plain(s.querySelector('.body > p'))}${t.doneAt ? ' (' + t.doneAt + ')' : ''}`
        + (hold ? `\n      ${plain(hold)} Released: ${t.hold ? t.hold + ' (' + t.holdAt + ')' : 'not yet'}` : '');
    });
    return `${title}\n${location.href}\nSaved ${new Date().toISOString()}\n\n${rows.join('\n')}\n`;
  };
  button('Save as file', 'seq-save', () => {
    const href = URL.createObjectURL(new Blob([text()], { type: 'text/plain' }));
    make('a', { href, download: `${document.body.dataset.mark ?? 'sequence'}-checklist.txt` }).click();
    setTimeout(() => URL.revokeObjectURL(href), 10000);
  });
  button('Clear ticks', 'seq-clear', () => {
    if (!Object.keys(ticks).length || !confirm('Clear all ticks and initials of this sequence?')) return;
    ticks = {};
    save();
    for (const f of when) f();
    show();
  });
  show();
  section.insertBefore(bar, list);
  list.after(foot);
})();
