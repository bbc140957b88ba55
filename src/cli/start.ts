/** `npm start`: builds what is stale, serves it on this machine, opens it. */
import { statusOf } from './command.ts';
import { run } from './serve.ts';

try {
  process.exitCode = await run(process.argv.slice(2));
} catch (error) {
  process.exitCode = statusOf(error, (text) => process.stderr.write(text));
}
