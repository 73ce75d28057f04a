export type Paper = 'day' | 'night';
export type Units = 'mm' | 'ft-in';

// What the reader chose for this browser: the paper's colour and the units of lengths.
export class Prefs {
  #paper = $state<Paper>(read('paper', ['day', 'night']) ?? preferred());
  #units = $state<Units>(read('units', ['mm', 'ft-in']) ?? 'mm');

  get paper(): Paper {
    return this.#paper;
  }

  get units(): Units {
    return this.#units;
  }

  setPaper(paper: Paper): void {
    this.#paper = paper;
    keep('paper', paper);
  }

  setUnits(units: Units): void {
    this.#units = units;
    keep('units', units);
  }

  turnUnits(): void {
    this.setUnits(this.#units === 'mm' ? 'ft-in' : 'mm');
  }
}

function preferred(): Paper {
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'night' : 'day';
}

// Storage may be refused (a private window): then a choice lasts as long as the page.
function read<T extends string>(name: string, known: readonly T[]): T | undefined {
  try {
    const kept = localStorage.getItem(`scalewright.${name}`);
    return known.find((k) => k === kept);
  } catch {
    return undefined;
  }
}

function keep(name: string, value: string): void {
  try {
    localStorage.setItem(`scalewright.${name}`, value);
  } catch {
    return;
  }
}
