/** What is shown for the eye, said otherwise aloud: a sentence in place of figures and signs. */
export const Aloud = (p: { says: string; children: React.ReactNode }) => (
  <>
    <span className="aside">{p.says}</span>
    <span className="shown" aria-hidden="true">
      {p.children}
    </span>
  </>
);
