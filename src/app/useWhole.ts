/**
 * A field that is come to is chosen whole, so that what is typed takes the place of what stood there. A press sets the
 * caret after the focus has come, which would undo it: once let go, the field is chosen again, unless a part of it was
 * drawn over. The next press sets the caret as ever.
 */
import { useRef } from 'react';

export function useWhole() {
  const fresh = useRef(false);
  return {
    onFocus: (e: React.FocusEvent<HTMLInputElement>) => {
      fresh.current = true;
      e.currentTarget.select();
    },
    onClick: (e: React.MouseEvent<HTMLInputElement>) => {
      const field = e.currentTarget;
      if (fresh.current && field.selectionStart === field.selectionEnd) field.select();
      fresh.current = false;
    },
    onKeyDownCapture: () => {
      fresh.current = false;
    },
  };
}
