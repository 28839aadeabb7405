// Keeps the studio's page and the steps already loaded, so that they stay usable while the studio is away.
// What she does is not kept here but in the page's own outbox, and told once the studio answers.

const SHELL = 'polestitch-shell-1';
const SAID = 'polestitch-said-1';
const READ = /^\/api\/pieces(\/[0-9a-f-]+(\/(steps|scene))?)?$/;
const PATIENCE_MS = 6000;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(SHELL)
      .then(async (cache) => {
        const page = await fetch('/', { cache: 'no-cache' });
        const html = await page.clone().text();
        await cache.put('/', page);
        await cache.addAll([...html.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((found) => found[1]));
      })
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter((name) => name !== SHELL && name !== SAID).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

async function fresh(request, name, key) {
  const cache = await caches.open(name);
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answer.ok) await cache.put(key, answer.clone());
    return answer;
  } catch (error) {
    const kept = await cache.match(key);
    if (kept) return kept;
    throw error;
  }
}

async function keptFirst(request) {
  const cache = await caches.open(SHELL);
  const kept = await cache.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await cache.put(request, answer.clone());
  return answer;
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== location.origin) return;
  if (request.mode === 'navigate') event.respondWith(fresh(request, SHELL, '/'));
  else if (url.pathname.startsWith('/assets/')) event.respondWith(keptFirst(request));
  else if (READ.test(url.pathname)) event.respondWith(fresh(request, SAID, request));
});
