// Keeps the site on a device. A publish puts its generation before this: the
// hash of the list of all files. What is served is of that one generation, or
// comes whole from the network; a file whose hash is not the list's is not kept.
const here = new URL('./', self.location).href;
const name = 'wythe ' + here + ' ';
const mine = name + generation;
const kits = name + 'kits'; // what the visitor chose to keep, over generations
const hex = (bytes) => [...new Uint8Array(bytes)].map((b) => b.toString(16).padStart(2, '0')).join('');
const hash = async (bytes) => hex(await crypto.subtle.digest('SHA-256', bytes)).slice(0, 16);
const get = (path) => fetch(here + path, { cache: 'no-cache' });

let listed;
const parse = (text) => new Map(text.trim().split('\n').map((line) => {
  const [path, sum, size] = line.split('\t');
  return [path, { sum, size: +size }];
}));
// The list of this generation. A device that cleared what was kept gets it
// again, and with it what every set holds.
const list = async () => {
  if (listed) return listed;
  const cache = await caches.open(mine);
  const r = await cache.match(here + 'offline.txt');
  if (r) return listed = parse(await r.text());
  try {
    const again = await get('offline.txt'), bytes = await again.arrayBuffer();
    if (!again.ok || await hash(bytes) !== generation) return new Map();
    listed = parse(new TextDecoder().decode(bytes));
    bring(core(listed), listed, cache).then(() => cache.put(here + 'offline.txt', copy(again, bytes))).catch(() => {});
  } catch { return new Map(); }
  return listed;
};
// A copy of a response to keep: its headers, among them the content policy,
// and the day.
const copy = (r, bytes, day = new Date().toISOString()) => {
  const headers = new Headers(r.headers);
  for (const h of ['content-encoding', 'content-length', 'transfer-encoding']) headers.delete(h);
  headers.set('x-kept', day);
  return new Response(bytes, { status: 200, headers });
};
// The files of every set: the index, the style, the search, but not its texts.
const core = (files) => [...files.keys()].filter((p) => p === 'index.html' || p === 'search.js'
  || p.startsWith('app') && !p.includes('/') || p.startsWith('assets/') && !p.startsWith('assets/words-'));
const paths = (files, kit) => [...files.keys()].filter((p) => kit.id === 'all' ? p !== 'sw.js' && p !== 'offline.json'
  : p.startsWith('assets/') || (kit.folders ?? []).some((f) => p.startsWith(f))).concat(core(files));

// Brings files of a generation into its cache, some at a time. An old copy of
// the same hash serves as well as a new one.
const bring = async (want, files, cache, said = () => {}) => {
  const queue = [...new Set(want)].filter((p) => files.has(p));
  const total = queue.length;
  const olds = [];
  for (const n of await caches.keys()) {
    if (!n.startsWith(name) || n === kits || n === mine) continue;
    const old = await caches.open(n), l = await old.match(here + 'offline.txt');
    if (l) olds.push([old, parse(await l.text())]);
  }
  let done = 0;
  const one = async (path) => {
    const { sum } = files.get(path);
    if (await cache.match(here + path)) return;
    for (const [old, was] of olds) {
      const r = was.get(path)?.sum === sum && await old.match(here + path);
      if (r) return cache.put(here + path, r);
    }
    const r = await get(path);
    const bytes = await r.arrayBuffer();
    if (!r.ok || await hash(bytes) !== sum) throw new Error(path + ' is of another issue');
    await cache.put(here + path, copy(r, bytes));
  };
  await Promise.all([...Array(6)].map(async () => {
    for (let p = queue.shift(); p !== undefined; p = queue.shift()) {
      await one(p);
      said(++done, total);
    }
  }));
};
const chosen = async () => {
  const r = await (await caches.open(kits)).match(here + 'kits.json');
  return r ? r.json() : {};
};
const choose = async (all) => (await caches.open(kits)).put(here + 'kits.json', new Response(JSON.stringify(all)));

const install = async () => {
  const r = await fetch(here + 'offline.txt', { cache: 'no-store' });
  const bytes = await r.arrayBuffer();
  if (!r.ok || await hash(bytes) !== generation) throw new Error('offline.txt is of another issue');
  const files = listed = parse(new TextDecoder().decode(bytes));
  const cache = await caches.open(mine);
  const want = core(files);
  for (const n of await caches.keys()) {
    if (!n.startsWith(name) || n === kits || n === mine) continue;
    for (const q of await (await caches.open(n)).keys()) want.push(decodeURI(q.url.slice(here.length)));
  }
  const keep = await chosen();
  if (Object.keys(keep).length) {
    const news = await (await get('offline.json')).json();
    for (const kit of news.kits) if (keep[kit.id]) want.push(...paths(files, kit));
  }
  try {
    await bring(want, files, cache);
  } catch (e) {
    await caches.delete(mine);
    throw e;
  }
  await cache.put(here + 'offline.txt', copy(r, bytes)); // last: the generation is whole
};
self.addEventListener('install', (e) => e.waitUntil(install()));

self.addEventListener('activate', (e) => e.waitUntil((async () => {
  for (const n of await caches.keys()) if (n.startsWith(name) && n !== mine && n !== kits) await caches.delete(n);
  await self.clients.claim();
})()));

// Pages that came from a newer publish: what they ask for may be newer too.
const newer = new Set();
const unkept = async () => {
  const style = [...(await list()).keys()].find((p) => p.startsWith('assets/style.'));
  return new Response(`<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>Not kept on this device</title>
<link rel="stylesheet" href="${here}${style}"><body><main class="field"><h1>Not kept on this device</h1><p>There is no connection, and this page was not kept. Open the <a href="${here}index.html">drawing index</a>, or try again with a connection.</p></main></body></html>`,
  { status: 503, headers: { 'content-type': 'text/html; charset=utf-8', 'content-security-policy': "default-src 'none'; style-src 'self'; font-src 'self'" } });
};
const answer = async (e, path) => {
  const cache = await caches.open(mine);
  if (!newer.has(e.clientId)) {
    const kept = await cache.match(here + path);
    if (kept) return kept;
  }
  const page = e.request.mode === 'navigate';
  let r;
  try {
    r = await fetch(e.request);
  } catch (fault) {
    if (page) return unkept();
    throw fault;
  }
  const entry = (await list()).get(path);
  if (!r.ok || !entry) return r;
  const bytes = await r.clone().arrayBuffer();
  if (await hash(bytes) === entry.sum) {
    await cache.put(here + path, copy(r, bytes));
    return r;
  }
  self.registration.update().catch(() => {});
  if (page) newer.add(e.resultingClientId);
  return page || newer.has(e.clientId) ? r : Response.error();
};
const pathOf = (url) => {
  const u = new URL(url);
  const path = decodeURI((u.origin + u.pathname).slice(here.length));
  return path === '' || path.endsWith('/') ? path + 'index.html' : path;
};
self.addEventListener('fetch', (e) => {
  if (e.request.method !== 'GET' || !e.request.url.startsWith(here)) return;
  const path = pathOf(e.request.url);
  if (path === 'sw.js' || path === 'offline.json' || path === 'offline.txt') return;
  e.respondWith(answer(e, path));
});

const work = {
  // A page that opened before the worker did.
  visit: async ({ urls }) => bring(urls.filter((u) => u.startsWith(here)).map(pathOf), await list(), await caches.open(mine)),
  keep: async ({ kit }, said) => {
    await bring(paths(await list(), kit), await list(), await caches.open(mine), said);
    await choose({ ...await chosen(), [kit.id]: new Date().toISOString() });
  },
  drop: async ({ kit, others }) => {
    const all = await chosen(), files = await list(), cache = await caches.open(mine);
    delete all[kit.id];
    await choose(all);
    const stay = new Set(core(files));
    for (const k of others) if (all[k.id]) for (const p of paths(files, k)) stay.add(p);
    for (const p of paths(files, kit)) if (!stay.has(p)) await cache.delete(here + p);
  },
  state: async ({ url }) => {
    const r = await (await caches.open(mine)).match(here + pathOf(url));
    return { generation, kits: await chosen(), kept: r?.headers.get('x-kept') ?? null };
  },
  take: async () => self.skipWaiting(),
};
self.addEventListener('message', (e) => {
  const port = e.ports[0], job = work[e.data?.work];
  if (!job) return;
  e.waitUntil(job(e.data, (done, total) => port?.postMessage({ done, total }))
    .then((result) => port?.postMessage({ result: result ?? null }), (fault) => port?.postMessage({ fault: String(fault.message ?? fault) })));
});
