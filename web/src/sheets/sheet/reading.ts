import type { LaneReadings, Reading } from '../../api/types';

// at looks a reading up in a lane's list: the last one from before the station on.
export function at(list: readonly Reading[], station: number): Reading | undefined {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((list[middle]?.from_mm ?? Infinity) <= station) low = middle + 1;
    else high = middle;
  }
  return list[low - 1];
}

export function readingOf(
  readings: LaneReadings | undefined,
  lane: string,
  station: number,
): Reading | undefined {
  return at(readings?.lanes?.find((l) => l.id === lane)?.readings ?? [], station);
}
