/** Keys for everything; none while something is being typed. */
import { useEffect } from 'react';
import type { AngleRef } from '../shoot/rigFor.ts';
import type { Shoot } from '../shoot/schema.ts';
import { type Panel, useStore } from './store.ts';

const typing = (e: KeyboardEvent) =>
  e.target instanceof HTMLElement &&
  (e.target.tagName === 'TEXTAREA' ||
    (e.target instanceof HTMLInputElement && !['range', 'checkbox'].includes(e.target.type)));

export function useKeys(shoot: Shoot, scene: string, angles: AngleRef[]): void {
  useEffect(() => {
    const lamps = Object.keys(shoot.scenes[scene]!.rig.lamps);
    const panel = (name: Panel) => {
      const s = useStore.getState();
      s.set({ panel: s.panel === name ? 'none' : name });
    };
    const down = (e: KeyboardEvent) => {
      const s = useStore.getState();
      if (e.key === 'Escape') {
        if (s.history?.held || s.tried) s.leave();
        else if (s.panel !== 'none') s.set({ panel: 'none' });
        else if (s.area !== 'light') s.set({ area: 'light' });
        else if (s.near) s.set({ near: false });
        else if (s.score) s.set({ score: false });
        else if (s.planLarge) s.set({ planLarge: false });
        else s.set({ lamp: undefined, only: undefined });
        return;
      }
      if (typing(e)) return;
      if ((e.ctrlKey || e.metaKey) && e.code !== 'KeyZ') return;
      const digit = /^Digit([1-9])$/.exec(e.code)?.[1];
      if (digit) {
        const id = lamps[Number(digit) - 1];
        if (!id || e.repeat) return;
        if (e.shiftKey)
          s.act({
            edit: 'switchLamp',
            args: { scene, lamp: id, on: !shoot.scenes[scene]!.rig.lamps[id]!.on },
          });
        else s.set({ only: id });
        return;
      }
      if (e.repeat && e.code !== 'ArrowLeft' && e.code !== 'ArrowRight') return;
      // What is pressed by Enter itself: things of the plan and faces in pictures are drawn, no elements of a page.
      const button =
        e.target instanceof Element &&
        e.target.closest('button, input, a, summary, [data-thing], [data-face]');
      const at = angles.findIndex((a) => a.angle === s.angle);
      if (e.key === '?') panel('keys');
      else if (e.code === 'KeyZ') {
        e.preventDefault();
        if (e.shiftKey) s.forward();
        else s.back();
      } else if (e.code === 'KeyV') s.set({ was: true });
      else if (e.code === 'KeyE') s.set({ stops: !s.stops });
      else if (e.code === 'KeyP') s.set({ planLarge: !s.planLarge });
      else if (e.code === 'KeyK') s.set({ score: !s.score, near: false, planLarge: false });
      else if (e.code === 'KeyH') panel('day');
      else if (e.code === 'KeyN') {
        e.preventDefault();
        document.querySelector<HTMLElement>('[data-add]')?.click();
      } else if (e.code === 'KeyT') panel('troubles');
      else if (e.code === 'KeyR') panel('readings');
      else if (e.code === 'KeyW') s.set({ area: s.area === 'power' ? 'light' : 'power' });
      else if (e.code === 'KeyM') s.set({ area: s.area === 'onset' ? 'light' : 'onset' });
      else if (e.code === 'KeyB') s.set({ area: s.area === 'book' ? 'light' : 'book' });
      else if (e.code === 'KeyG') panel('earns');
      else if (e.code === 'KeyC') panel('checks');
      else if (e.code === 'KeyL' && lamps.length) {
        const i = lamps.indexOf(s.lamp ?? '');
        const next =
          lamps[(i + (e.shiftKey ? -1 : 1) + lamps.length + (i < 0 && e.shiftKey ? 1 : 0)) % lamps.length]!;
        s.set({ lamp: next, scope: 'rig' });
        document.querySelector<SVGElement>(`[data-thing="lamp:${CSS.escape(next)}"]`)?.focus();
      } else if (e.code === 'KeyD') s.set({ day: !s.day });
      else if (e.key === 'Enter' && !button) s.set({ near: !s.near });
      else if ((e.code === 'ArrowRight' || e.code === 'ArrowLeft') && !button) {
        const next = angles[(at + (e.code === 'ArrowRight' ? 1 : -1) + angles.length) % angles.length];
        if (next) s.set({ angle: next.angle });
      }
    };
    const up = (e: KeyboardEvent) => {
      const s = useStore.getState();
      if (/^Digit[1-9]$/.test(e.code) && s.only) s.set({ only: undefined });
      if (e.code === 'KeyV') s.set({ was: false });
    };
    addEventListener('keydown', down);
    addEventListener('keyup', up);
    return () => {
      removeEventListener('keydown', down);
      removeEventListener('keyup', up);
    };
  }, [shoot, scene, angles]);
}
