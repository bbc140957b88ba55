import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { derived } from './derive.ts';

const settle = () => new Promise((resolve) => setTimeout(resolve));

test('equal keys are made once, also while on their way', async () => {
  const store = derived(1000);
  let made = 0;
  let finish: (v: number) => void = () => undefined;
  const make = () => {
    made++;
    return new Promise<number>((resolve) => {
      finish = resolve;
    });
  };
  const a = store.get('k', make, () => 8);
  const b = store.get('k', make, () => 8);
  await settle();
  finish(42);
  expect(await Promise.all([a, b])).toEqual([42, 42]);
  expect(await store.get('k', make, () => 8)).toBe(42);
  expect(made).toBe(1);
  expect(store.bytes).toBe(8);
});

test('never more bytes than allowed; what goes is what was used longest ago (against a plain list)', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 1, max: 60 })), { maxLength: 60 }),
      async (uses) => {
        const store = derived(100);
        // The model: a list of [key, bytes], longest unused first.
        let model: [number, number][] = [];
        for (const [key, bytes] of uses) {
          const known = model.find(([k]) => k === key);
          let made = false;
          const got = await store.get(
            `${key}`,
            () => {
              made = true;
              return { key, bytes };
            },
            (v) => v.bytes,
          );
          expect(made).toBe(known === undefined);
          expect(got.key).toBe(key);
          model = [...model.filter(([k]) => k !== key), known ?? [key, bytes]];
          while (model.reduce((s, [, b]) => s + b, 0) > 100) model.shift();
          expect(store.bytes).toBe(model.reduce((s, [, b]) => s + b, 0));
          expect(store.bytes).toBeLessThanOrEqual(100);
          expect(store.count).toBe(model.length);
        }
      },
    ),
    { numRuns: 60, seed: 7 },
  );
});

test('a value too large to keep is handed out all the same', async () => {
  const store = derived(10);
  expect(
    await store.get(
      'big',
      () => 'v',
      () => 11,
    ),
  ).toBe('v');
  expect(store.count).toBe(0);
});

test('making stops when the last who waited has gone, and not before', async () => {
  const store = derived(100);
  const one = { aborted: false };
  const two = { aborted: false };
  let heard: { readonly aborted: boolean } = { aborted: false };
  const make = ({ signal }: { signal: { readonly aborted: boolean } }) => {
    heard = signal;
    return new Promise<number>(() => undefined);
  };
  const a = store.get('k', make, () => 1, one);
  const b = store.get('k', make, () => 1, two);
  const gone = [
    expect(a).rejects.toMatchObject({ name: 'AbortError' }),
    expect(b).rejects.toMatchObject({ name: 'AbortError' }),
  ];
  one.aborted = true;
  store.sweep();
  expect(heard.aborted).toBe(false);
  two.aborted = true;
  store.sweep();
  expect(heard.aborted).toBe(true);
  await Promise.all(gone);
  // Asked again, it is made anew.
  expect(
    await store.get(
      'k',
      () => 5,
      () => 1,
    ),
  ).toBe(5);
  await expect(
    store.get(
      'other',
      () => 1,
      () => 1,
      { aborted: true },
    ),
  ).rejects.toMatchObject({ name: 'AbortError' });
});

test('a failure reaches all who wait and is not kept', async () => {
  const store = derived(100);
  const make = async () => {
    throw new Error('no light');
  };
  const waits = [store.get('k', make, () => 1), store.get('k', make, () => 1)];
  for (const w of waits) await expect(w).rejects.toThrow('no light');
  expect(
    await store.get(
      'k',
      () => 3,
      () => 1,
    ),
  ).toBe(3);
});

test('dropping by the start of a key; what is on its way is handed out but not kept', async () => {
  const store = derived(100);
  await store.get(
    'stage1/a',
    () => 1,
    () => 1,
  );
  await store.get(
    'stage2/a',
    () => 2,
    () => 1,
  );
  let finish: (v: number) => void = () => undefined;
  const late = store.get(
    'stage1/b',
    () =>
      new Promise<number>((r) => {
        finish = r;
      }),
    () => 1,
  );
  await settle();
  store.drop('stage1/');
  finish(9);
  expect(await late).toBe(9);
  expect(store.peek('stage1/a')).toBeUndefined();
  expect(store.peek('stage1/b')).toBeUndefined();
  expect(store.peek('stage2/a')).toBe(2);
});
