import { defineConfig } from 'vitest/config';

const shared = { environment: 'node' as const, execArgv: ['--import', './bin/types-hook.js'] };

export default defineConfig({
  test: {
    // As many as the least machine has cores: by itself the runner leaves one idle.
    maxWorkers: 2,
    projects: [
      {
        test: {
          ...shared,
          name: 'unit',
          include: ['src/**/*.test.ts', 'tests/*.test.ts'],
          testTimeout: 60_000,
        },
      },
      {
        test: {
          ...shared,
          name: 'long',
          include: ['src/**/*.long.ts', 'tests/*.long.ts'],
          testTimeout: 900_000,
        },
      },
      {
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/browser/*.test.ts'],
          // A whole run of the tests stays under ten minutes on two cores; these go with the long ones.
          exclude: process.env.RUSHLIGHT_LONG
            ? []
            : ['hands', 'killed', 'said', 'sentOn', 'keyboard', 'notKept'].map(
                (name) => `tests/browser/${name}.test.ts`,
              ),
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
