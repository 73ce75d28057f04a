import type { Units } from '../state/prefs.svelte';

// Lettering of the plumb line's own place, which moves with the hand. Every other length
// comes from the server as finished text.

const inch = 25.4;

// figure writes a length as a drawing letters it: whole mm, or feet, inches and
// sixteenths, reduced.
export function figure(mm: number, units: Units): string {
  return units === 'mm' ? String(Math.round(mm) || 0) : feetInches(mm);
}

// tenth is a length of the reference.
export function tenth(mm: number, units: Units): string {
  return units === 'mm' ? (Math.round(mm * 10) / 10 || 0).toFixed(1) : feetInches(mm);
}

function feetInches(mm: number): string {
  let n = Math.round((Math.abs(mm) / inch) * 16);
  const sign = mm < 0 && n > 0 ? '-' : '';
  const feet = Math.floor(n / 192);
  n -= feet * 192;
  const whole = Math.floor(n / 16);
  let part = n % 16;
  let of = 16;
  while (part > 0 && part % 2 === 0) {
    part /= 2;
    of /= 2;
  }
  const fraction = part ? `${part}/${of}` : '';
  const inches = [whole || feet || !fraction ? String(whole) : '', fraction]
    .filter(Boolean)
    .join(' ');
  return `${sign}${feet ? `${feet}'-` : ''}${inches}"`;
}

// aloud is a length as it is said: 3 foot 4 and 9 sixteenths.
export function aloud(mm: number, units: Units): string {
  if (units === 'mm') return `${figure(mm, 'mm')} millimetres`;
  return feetInches(mm)
    .replace('"', ' inches')
    .replace("'-", ' foot ')
    .replace(/ (\d+)\/(\d+)/, ' and $1/$2');
}

// stationTyped reads a station that was typed: millimetres, or feet and inches with
// fractions; undefined where it is neither.
export function stationTyped(text: string, units: Units): number | undefined {
  const words = text.trim();
  const plain = /^-?\d+(\.\d+)?( ?(mm|cm))?$/.exec(words);
  if (plain && (units === 'mm' || plain[3])) {
    return Number.parseFloat(words) * (plain[3] === 'cm' ? 10 : 1);
  }
  const parts = /^(?:(\d+)'-?)? ?(\d+(?:\.\d+)?)?(?:(?:^| |-)?(\d+)\/(\d+))?"?$/.exec(words);
  if (!parts || words === '' || !parts.slice(1).some(Boolean)) return undefined;
  const [, feet = '0', whole = '0', top = '0', of = '1'] = parts;
  if (Number(of) === 0) return undefined;
  return (Number(feet) * 12 + Number(whole) + Number(top) / Number(of)) * inch;
}
