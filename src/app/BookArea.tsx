/** The Book: sheets listed and shown as they will be on paper; PDF, print, cards as pictures. */
import { useMemo, useRef, useState } from 'react';
import { bookOf } from '../book/book.ts';
import { cardPages, PHONE_CARD } from '../book/cards.ts';
import type { BookFacts } from '../book/facts.ts';
import { PAPERS, type PaperName } from '../book/page.ts';
import { SHEET_IDS, SHEETS, type SheetId } from '../book/sheets.ts';
import { regionWord } from '../shoot/region-words.ts';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { countedShoot } from './counted.ts';
import { keepAsFile } from './onePageOf.ts';
import { pagePng, pdfBytes, printPages, shownPage } from './paper.ts';
import { refuse } from './refused.ts';
import { nameOf } from './saving.ts';
import { TypedWords } from './TypedWords.tsx';
import { factsNow, useBook } from './useBook.ts';

export function Book(p: { shoot: Shoot; scene: string; angles: AngleRef[]; angle: string }) {
  const region = p.shoot.places[p.shoot.scenes[p.scene]!.place]?.supply.region ?? 'uk';
  const [paper, setPaper] = useState<PaperName>(region === 'na' ? 'letter' : 'a4');
  const [only, setOnly] = useState(false);
  const [drawnFor, setDrawnFor] = useState('');
  const [shown, setShown] = useState<SheetId>('plan');
  const [left, setLeft] = useState<ReadonlySet<SheetId>>(new Set());
  const [large, setLarge] = useState<number>();
  const [busy, setBusy] = useState('');
  const pagesAt = useRef<HTMLElement>(null);
  const angles = useMemo(
    () => (only ? p.angles.filter((a) => a.angle === p.angle) : p.angles),
    [only, p.angles, p.angle],
  );
  const facts = useBook(p.shoot, angles, paper, drawnFor);
  const pages = useMemo(() => (facts ? bookOf(facts, SHEET_IDS) : []), [facts]);
  const wanted = SHEET_IDS.filter((id) => !left.has(id));
  const count = pages.filter((x) => wanted.includes(x.sheet)).length;
  const looked = useMemo(
    () =>
      facts
        ? pages
            .filter((x) => x.sheet === shown)
            .map((x) => ({ title: x.title, svg: shownPage(x, facts.pictures) }))
        : [],
    [facts, pages, shown],
  );

  const show = (id: SheetId) => {
    setShown(id);
    setLarge(undefined);
    // Where the pages lie under the list, one goes on to them.
    const at = pagesAt.current?.getBoundingClientRect().top ?? 0;
    if (at > innerHeight / 2) pagesAt.current?.scrollIntoView({ block: 'start' });
  };

  /** Counts the version, makes the pages of just now, and hands them on. */
  const send = async (words: string, how: (now: BookFacts) => Promise<void>) => {
    setBusy(words);
    try {
      const shoot = countedShoot() ?? p.shoot;
      await how(await factsNow(shoot, angles, paper, drawnFor));
    } catch (error) {
      refuse({ words: [`${words}: that could not be made (${(error as Error).message}).`], at: undefined });
    } finally {
      setBusy('');
    }
  };
  const name = nameOf(p.shoot.title);
  const pdf = () =>
    send('PDF', async (f) =>
      keepAsFile(`${name}-v${f.version.number}.pdf`, await pdfBytes(bookOf(f, wanted), f), 'application/pdf'),
    );
  const print = () => send('Print', async (f) => printPages(bookOf(f, wanted), f, paper));
  const cards = () =>
    send('Cards', async (f) => {
      for (const ref of angles)
        keepAsFile(
          `${name}-${ref.angle}-v${f.version.number}.png`,
          await pagePng(cardPages(f, ref, PHONE_CARD)[0]!, f),
        );
      for (const [i, page] of bookOf(f, ['stands']).entries())
        keepAsFile(
          `${name}-where-${f.stands?.[i]?.mark ?? i + 1}-v${f.version.number}.png`,
          await pagePng(page, f),
        );
    });

  const words = (id: SheetId, text: string) =>
    id === 'recce' ? text.replace(/^Recce/, capital(regionWord(region, 'recce'))) : text;
  return (
    <div className="book">
      <section className="book-list" aria-label="Sheets">
        <h2>Paper</h2>
        <ul>
          {SHEETS.map((s) => {
            const n = pages.filter((x) => x.sheet === s.id).length;
            return (
              <li key={s.id} data-shown={shown === s.id}>
                <label className="tick">
                  <input
                    type="checkbox"
                    checked={!left.has(s.id)}
                    aria-label={`${s.words}: in the book`}
                    onChange={(e) => {
                      const next = new Set(left);
                      if (e.target.checked) next.delete(s.id);
                      else next.add(s.id);
                      setLeft(next);
                    }}
                  />
                </label>
                <button type="button" aria-pressed={shown === s.id} onClick={() => show(s.id)}>
                  {words(s.id, s.words)}
                </button>
                <span className="num quiet">{facts ? n || 'none' : ''}</span>
              </li>
            );
          })}
        </ul>
        <p className="book-choices">
          {(Object.keys(PAPERS) as PaperName[]).map((k) => (
            <button
              key={k}
              type="button"
              className="boxed"
              aria-pressed={paper === k}
              onClick={() => setPaper(k)}
            >
              {PAPERS[k].words}
            </button>
          ))}
          <button type="button" className="boxed" aria-pressed={only} onClick={() => setOnly(!only)}>
            {p.angle} only
          </button>
        </p>
        <p className="book-for">
          <span className="quiet">Drawn for</span> <DrawnFor value={drawnFor} onValue={setDrawnFor} />
        </p>
        <p className="book-send">
          <button
            type="button"
            className="boxed"
            disabled={!facts || busy !== '' || count === 0}
            onClick={pdf}
          >
            {busy === 'PDF' ? 'making …' : `PDF, ${count} ${count === 1 ? 'page' : 'pages'}`}
          </button>
          <button
            type="button"
            className="boxed"
            disabled={!facts || busy !== '' || count === 0}
            onClick={print}
          >
            Print
          </button>
          <button type="button" className="boxed" disabled={!facts || busy !== ''} onClick={cards}>
            {busy === 'Cards' ? 'making …' : `Cards as PNG, ${angles.length}`}
          </button>
        </p>
        <p className="faint">
          Version {facts ? `${facts.version.number} (${facts.version.word})` : '…'}, large on every sheet: it
          grows when a changed shoot is printed or saved. Print at 100 %, then lay a rule on the line that
          says how long it is.
        </p>
      </section>
      <section ref={pagesAt} className="book-pages" aria-label="Pages">
        {looked.map((x, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: pages have no other name than their place
          <figure key={i} aria-label={x.title} data-large={large === i}>
            <figcaption>
              <span className="quiet">{x.title}</span>
              <button
                type="button"
                className="quiet"
                aria-pressed={large === i}
                onClick={() => setLarge(large === i ? undefined : i)}
              >
                {large === i ? 'whole' : 'larger'}
              </button>
            </figcaption>
            {/* biome-ignore lint/security/noDangerouslySetInnerHtml: our own painter, words escaped */}
            <div className="page" dangerouslySetInnerHTML={{ __html: x.svg }} />
          </figure>
        ))}
        {facts && looked.length === 0 ? (
          <p className="quiet">
            {shown === 'stands'
              ? 'Nobody has asked yet: take somebody on the plan in Light and press “where else?”. What is asked there last is printed.'
              : 'Nothing of this shoot belongs on that sheet.'}
          </p>
        ) : null}
        {facts ? null : <p className="quiet">Laying out …</p>}
      </section>
    </div>
  );
}

const capital = (s: string) => s[0]!.toUpperCase() + s.slice(1);

function DrawnFor(p: { value: string; onValue: (v: string) => void }) {
  const [typing, setTyping] = useState(false);
  return typing || p.value ? (
    <TypedWords
      value={p.value}
      label="Who it is drawn for"
      most={60}
      begins={typing}
      onValue={p.onValue}
      onLeave={() => setTyping(false)}
    />
  ) : (
    <button type="button" className="tiny" onClick={() => setTyping(true)}>
      a line to write on
    </button>
  );
}
