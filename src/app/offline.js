/**
 * The service worker: keeps the program for when there is no network, and adds the headers that isolate a page, for
 * hosts that send none (isolated from the first reload on). The build fills in NAME and FILES and writes it as sw.js.
 */
const NAME = 'rushlight-__NAME__';
const FILES = ['__FILES__'];

const ISOLATE = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
};

self.addEventListener('install', (event) => {
  const fetched = FILES.map((file) => new Request(file, { cache: 'reload' }));
  event.waitUntil(
    caches
      .open(NAME)
      .then(async (cache) => {
        await cache.addAll(fetched);
        // For keeping the program as one file; a host may leave it out.
        await cache.add(new Request('./onefile.js', { cache: 'reload' })).catch(() => {});
      })
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  const forget = (names) =>
    Promise.all(names.filter((n) => n.startsWith('rushlight-') && n !== NAME).map((n) => caches.delete(n)));
  event.waitUntil(
    caches
      .keys()
      .then(forget)
      .then(() => self.clients.claim()),
  );
});

function isolated(response) {
  if (response.type === 'opaque' || response.type === 'error' || response.redirected) return response;
  const headers = new Headers(response.headers);
  for (const [name, value] of Object.entries(ISOLATE)) headers.set(name, value);
  const { status, statusText } = response;
  return new Response([204, 304].includes(status) ? null : response.body, { status, statusText, headers });
}

async function answer(request) {
  const cache = await caches.open(NAME);
  const page = request.mode === 'navigate';
  const kept = () => cache.match(page ? './' : request, { ignoreSearch: page, ignoreVary: true });
  // A hashed file never changes. All else is asked for first, or yesterday's build would show.
  if (new URL(request.url).pathname.includes('/assets/')) return (await kept()) ?? fetch(request);
  try {
    return await fetch(request);
  } catch (error) {
    const found = await kept();
    if (found) return found;
    throw error;
  }
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== self.location.origin) return;
  event.respondWith(answer(request).then(isolated));
});
