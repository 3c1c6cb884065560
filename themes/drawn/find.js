// The search: the published index as minisearch reads it, and the dialog that
// asks it. Loaded when somebody searches. See package site/search.
(() => {
  const { root, got, load } = wythe;
  const fields = ['mark', 'title', 'material', 'trade', 'spec', 'body'];
  const number = (s) => parseInt(s, 36);
  const { docs, lengths, averages, terms, quiet } = got.index;
  const pages = docs.split('\n').map((line) => {
    const [mark, title, href, thumb, kind, state] = line.split('\t');
    return {
      mark, title, state, kind: kind || 'detail',
      href: root + (href || mark + '/index.html'),
      thumb: thumb ? root + (thumb === '+' ? mark + '/thumb.svg' : thumb) : '',
    };
  });
  const hush = new Set(quiet.split(' '));

  // What is looked for, in the words of the index: F-101 is f101.
  const tokenize = (text) => {
    const list = text.toLowerCase().replace(/(^|\s)(\d\d)[ .-](\d\d)[ .-](\d\d)(?=\s|$)/g, '$1$2$3$4')
      .match(/[\p{L}\p{N}]+(?:[-./][\p{L}\p{N}]+)*/gu) ?? [];
    const words = list.flatMap((w) => (/\d/.test(w) ? [w.replace(/[-./]/g, '')] : w.split(/[-./]/)));
    const loud = words.filter((w) => !hush.has(w));
    return loud.length ? loud : words;
  };
  const columns = lengths.split('\n').map((line) => line.split(' ').map(number));
  const numbered = (of) => Object.fromEntries(pages.map((_, i) => [i, of(i)]));
  const engine = MiniSearch.loadJS({
    documentCount: pages.length, nextId: pages.length, dirtCount: 0, serializationVersion: 2, index: [],
    documentIds: numbered((i) => i), storedFields: {}, fieldLength: numbered((i) => columns.map((c) => c[i])),
    fieldIds: Object.fromEntries(fields.map((f, i) => [f, i])), averageFieldLength: averages,
  }, { fields, tokenize, processTerm: (t) => t });
  const add = (text) => {
    for (const line of text.split('\n')) {
      if (!line) continue;
      const [term, rest] = line.split('\t');
      const has = engine._index.get(term) ?? new Map();
      for (const part of rest.split(';')) {
        const in_ = new Map();
        let doc = 0;
        for (const step of part.slice(2).split('.')) {
          const [d, times] = step.split('*');
          doc += number(d);
          in_.set(doc, times ? number(times) : 1);
        }
        has.set(+part[0], in_);
      }
      engine._index.set(term, has);
    }
  };
  add(terms);
  // The terms of marks and titles, as package site/search takes them: F-101 is f101, f and 101.
  const termsOf = (text) => (text.toLowerCase().match(/[\p{L}\p{N}]+(?:[-./][\p{L}\p{N}]+)*/gu) ?? []).flatMap((w) => {
    const pieces = w.split(/[-./]/);
    return pieces.length > 1 && /\d/.test(w) ? [pieces.join(''), ...pieces] : pieces;
  });
  for (const [field, name] of [[0, 'mark'], [1, 'title']]) pages.forEach((page, doc) => {
    for (const term of termsOf(page[name])) {
      let has = engine._index.get(term);
      if (!has) engine._index.set(term, has = new Map());
      let in_ = has.get(field);
      if (!in_) has.set(field, in_ = new Map());
      in_.set(doc, (in_.get(doc) ?? 0) + 1);
    }
  });

  const boost = { mark: 8, title: 4, spec: 4, material: 2, trade: 1.5, body: 1 };
  const isTerm = (t) => engine._index.has(t);
  // Whether one is the other with a letter more, less, changed, or two changed over.
  const slipped = (a, b) => {
    let i = 0, k = 0;
    while (i < a.length && a[i] === b[i]) i++;
    while (k < Math.min(a.length, b.length) - i && a.at(-1 - k) === b.at(-1 - k)) k++;
    const x = a.slice(i, a.length - k), y = b.slice(i, b.length - k);
    return x.length <= 1 && y.length <= 1 || x.length === 2 && y.length === 2 && x[0] === y[1] && x[1] === y[0];
  };
  // What else a word may be: by another name, of two words written as one, a
  // specification number without its nought, the same word with another ending.
  const others = (t) => {
    const known = wythe.means[t] ? t : t.length > 4 && !isTerm(t) ? Object.keys(wythe.means).find((w) => slipped(w, t)) : null;
    const list = known ? [...(known === t ? [] : [known]), ...wythe.means[known]] : [];
    if (/^\d{3,5}$/.test(t)) list.push('0' + t);
    if (t.length < 6 || isTerm(t)) return list;
    for (let i = 3; i <= t.length - 3; i++) if (isTerm(t.slice(0, i)) && isTerm(t.slice(i))) list.push(t.slice(0, i) + ' ' + t.slice(i));
    const stem = t.replace(/(?:ers?|ors?|ings?|ed|es|s)$/, '');
    if (stem !== t && stem.length > 3) list.push(stem);
    return list;
  };
  const last = (t, i, all) => i === all.length - 1 || t.length > 2;
  const nearly = (t) => (/^0\d{4}$/.test(t) ? 1 : t.length > 3 && !/\d/.test(t) && (t.length > 5 ? 2 : 1));
  const all = { boost, combineWith: 'AND', prefix: last };
  const query = (words, combineWith) => ({
    combineWith,
    queries: words.map((t, i) => {
      const alone = last(t, i, words) ? t : { queries: [t], prefix: false };
      const more = others(t);
      return more.length ? { combineWith: 'OR', queries: [alone, ...more.map((m) => ({ combineWith: 'AND', queries: [m] }))] } : alone;
    }),
  });
  // Every word; two words that are one in the index; nearly spelled so; some of the words.
  const ask = (text) => {
    const words = tokenize(text), joined = words.flatMap((t, i) => (i && isTerm(words[i - 1] + t) ? [[...words.slice(0, i - 1), words[i - 1] + t, ...words.slice(i + 1)]] : []));
    const exact = words.some((t) => others(t).length) ? query(words, 'AND') : text;
    let found = engine.search(exact, all), how = '';
    for (const other of joined) if (!found.length) found = engine.search(query(other, 'AND'), all);
    if (!found.length) {
      found = engine.search(query(words, 'AND'), { ...all, fuzzy: nearly });
      how = 'spelled nearly so';
    }
    if (!found.length && words.length > 1) {
      found = engine.search(query(words, 'OR'), { ...all, fuzzy: nearly });
      how = 'by some of the words';
    }
    // What is called just so, in its mark or its whole title, comes first.
    const just = ({ id, terms }) => tokenize(pages[id].mark).join() === words.join() || tokenize(pages[id].title).every((t) => terms.includes(t));
    const rank = new Map(found.map((r) => [r, r.score * (just(r) ? 3 : 1)]));
    found.sort((x, y) => rank.get(y) - rank.get(x));
    return { how: found.length ? how : '', list: found.map((r) => ({ ...pages[r.id], score: r.score })) };
  };
  const loaded = new Set(), parts = Object.keys(got.pointer.words);
  // Fetches the words of the texts that begin as the words looked for do.
  const fetchWords = async (text) => {
    const words = tokenize(text).flatMap((t) => [t, ...others(t).flatMap(tokenize)]);
    // Of parts that begin as a word does; where it is too short to tell, a few.
    const sign = (t) => t.replace(/[^a-z0-9]/gu, '_');
    const of = (t) => {
      const exact = parts.filter((p) => t.startsWith(p)), longer = parts.filter((p) => p.startsWith(t));
      return exact.length ? exact : longer.length < 4 ? longer : [];
    };
    const want = [...new Set(words.map(sign).flatMap(of))].filter((p) => !loaded.has(p));
    await Promise.all(want.map(async (l) => {
      try { await load(got.pointer.words[l]); } catch { return; } // no net: what is loaded answers
      if (!loaded.has(l)) add(got['words-' + l]);
      loaded.add(l);
      delete got['words-' + l];
    }));
    return want.length > 0;
  };

  const make = (tag, set = {}, ...inside) => {
    const e = Object.assign(document.createElement(tag), set);
    e.append(...inside);
    return e;
  };
  const row = (r) => {
    const a = make('a', { href: r.href });
    const pic = make('span', { className: 'pic' });
    if (r.thumb) pic.append(make('img', { className: 'thumb', src: r.thumb, alt: '', loading: 'lazy' }));
    const says = make('span', { className: 'says' });
    if (r.mark) says.append(make('b', { className: 'mk' }, r.mark), ' ');
    says.append(make('span', {}, r.title));
    const small = [r.kind === 'detail' ? '' : r.kind, r.state].filter(Boolean).join(', ');
    if (small) says.append(make('span', { className: 'sub' }, small[0].toUpperCase() + small.slice(1)));
    a.append(pic, says);
    return make('li', {}, a);
  };
  const most = 30;
  // Fills a list with what is found, but for what leave says; returns the words for it.
  const fill = (ul, text, leave = () => false) => {
    const { how, list } = ask(text);
    const shown = list.filter((r) => !leave(r));
    const at = ul.contains(document.activeElement) ? document.activeElement.href : '';
    ul.replaceChildren(...shown.slice(0, most).map(row));
    if (at) [...ul.querySelectorAll('a')].find((a) => a.href === at)?.focus();
    if (!shown.length) return list.length ? '' : 'Nothing found. Try a mark, a material or another word.';
    const count = shown.length > most ? `${most} of ${shown.length} found` : `${shown.length} found`;
    return how ? `${count}, ${how}` : count;
  };
  const run = async (ul, say, text, leave) => {
    const current = () => ul.dataset.q === text;
    ul.dataset.q = text;
    if (!tokenize(text).length) {
      ul.replaceChildren();
      say.textContent = '';
      return;
    }
    say.textContent = fill(ul, text, leave);
    if (await fetchWords(text) && current()) say.textContent = fill(ul, text, leave);
  };
  // Up and down walk the results; Enter in the field opens the first.
  const walk = (box, input, ul) => box.addEventListener('keydown', (e) => {
    const links = [...ul.querySelectorAll('a')];
    const at = links.indexOf(document.activeElement);
    if (e.key === 'ArrowDown' && links[at + 1]) links[at + 1].focus();
    else if (e.key === 'ArrowUp' && at >= 0) (links[at - 1] ?? input).focus();
    else if (e.key === 'Enter' && e.target === input && links[0]) links[0].click();
    else return;
    e.preventDefault();
  });

  let dialog;
  const open = () => {
    if (!dialog) {
      const input = make('input', { type: 'search', id: 'fq', autocomplete: 'off', enterKeyHint: 'search' });
      const ul = make('ul', { className: 'hits' }), say = make('p', { className: 'say' });
      say.setAttribute('role', 'status');
      const close = make('button', { type: 'button', className: 'btn' }, 'Close');
      dialog = make('dialog', { className: 'finder' },
        make('label', { htmlFor: 'fq', className: 'k' }, 'Find a mark, a material, a trade or a word'),
        make('div', { className: 'find' }, input, close), say, ul);
      dialog.setAttribute('aria-label', 'Find in the library');
      close.addEventListener('click', () => dialog.close());
      dialog.addEventListener('click', (e) => { if (e.target === dialog) dialog.close(); });
      input.addEventListener('input', () => run(ul, say, input.value));
      walk(dialog, input, ul);
      document.body.append(dialog);
    }
    if (!dialog.open) dialog.showModal();
    dialog.querySelector('input').select();
  };
  Object.assign(wythe, { ask, fetchWords, open, run, walk });
})();
