/**
 * Gathers what comes within one frame and hands it on together: a slow phone draws the page once, not once for every
 * angle’s answer. A page that is not looked at draws no frames: there a clock does it.
 */
export function perFrame<T>(
  take: (gathered: T[]) => void,
  frame: (go: () => void) => unknown = (go) => requestAnimationFrame(go),
): (item: T) => void {
  let waiting: T[] = [];
  const go = () => {
    if (waiting.length === 0) return;
    const gathered = waiting;
    waiting = [];
    take(gathered);
  };
  return (item) => {
    if (waiting.push(item) > 1) return;
    frame(go);
    setTimeout(go, 60);
  };
}
