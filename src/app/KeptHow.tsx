/** How long what is kept stays kept, said before anything is lost: what may clear it, and how to keep a copy. */
import { shootInPage } from './assets.ts';
import { useKept } from './kept.ts';

const PROMISE = {
  given:
    'This browser has promised not to clear them by itself. Clearing its data, or its profile, still does.',
  'not given':
    'This browser made no promise: it may clear them by itself when the disk is nearly full, or after weeks without a visit to this page. So does clearing its data.',
  'cannot be asked':
    'This browser cannot be asked to hold on to them: it may clear them when the disk is nearly full. So does clearing its data.',
  'not asked': 'Once something is kept, the browser is asked not to clear it by itself.',
};

export function KeptHow() {
  const { promise, trouble, guarded, cards } = useKept();
  const page = shootInPage() !== undefined;
  const place = page
    ? 'this browser'
    : location.protocol.startsWith('http')
      ? `this browser, under ${location.origin}`
      : 'this browser';
  return (
    <div className="kept-how quiet">
      <h3>How long they are kept</h3>
      {trouble ? (
        <p className="bad">{trouble.join(' ')}</p>
      ) : (
        <p>
          Every change is kept at once in {place}, nowhere else. {PROMISE[promise]}
        </p>
      )}
      {page ? (
        <p>
          The page itself is a file and stays as it was sent to you. Send it on to pass on what you changed.
        </p>
      ) : null}
      <p>
        A private window forgets everything when it is closed. Only a copy outlives the browser: save the
        shoot as a file{cards.length > 1 ? ' (each of them)' : ''}, or send it on as one page.
      </p>
      {guarded ? null : (
        <p className="bad">
          This browser cannot tell when two windows change one shoot: keep it open in one of them only.
        </p>
      )}
    </div>
  );
}
