/** Words with thirds in them: 1⁄3 is set as one figure, which the page’s face can do only for the fraction itself. */
const FRACTION = /(\d⁄\d)/;

export const Said = (p: { children: string }) =>
  FRACTION.test(p.children)
    ? p.children.split(FRACTION).map((part, i) =>
        i % 2 ? (
          // biome-ignore lint/suspicious/noArrayIndexKey: pieces of one sentence, in their order
          <span key={i} className="frac">
            {part}
          </span>
        ) : (
          part
        ),
      )
    : p.children;
