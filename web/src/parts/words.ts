// Words for what the server gives as figures that are not lengths.

export function duration(minutes: number): string {
  const h = Math.floor(minutes / 60);
  const m = Math.round(minutes % 60);
  if (h === 0) return `${m} min`;
  return m === 0 ? `${h} h` : `${h} h ${String(m).padStart(2, '0')}`;
}

export function clock(time: string): string {
  return /T(\d\d:\d\d)/.exec(time)?.[1] ?? '';
}

const days = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

// day is a date in words: Friday 4 December.
export function day(date: string): string {
  const [y = 0, m = 1, d = 1] = date.split('-').map(Number);
  const at = new Date(Date.UTC(y, m - 1, d));
  return `${days[at.getUTCDay()]} ${at.getUTCDate()} ${months[at.getUTCMonth()]}`;
}

export function kilobytes(bytes: number): string {
  return bytes < 1_000_000
    ? `${Math.max(1, Math.round(bytes / 1000))} kB`
    : `${(bytes / 1e6).toFixed(1)} MB`;
}

// now is the time as a log line has it: the maker's clock, with its zone.
export function now(): string {
  const t = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  const offset = -t.getTimezoneOffset();
  const zone = `${offset < 0 ? '-' : '+'}${two(Math.floor(Math.abs(offset) / 60))}:${two(Math.abs(offset) % 60)}`;
  return `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())}T${two(t.getHours())}:${two(t.getMinutes())}:${two(t.getSeconds())}${zone}`;
}

export function today(): string {
  return now().slice(0, 10);
}

// shortDay is a date as a reading has it: 19 Dec; nothing where there is none.
export function shortDay(date: string | undefined): string {
  const [, m = 1, d] = (date ?? '').split('-').map(Number);
  return d ? `${d} ${months[m - 1]?.slice(0, 3)}` : '';
}
