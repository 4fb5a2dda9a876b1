// The nouns that cross between office, engine and page, as Go writes them: the same names,
// units in the names. Only what the page itself reads is told here.

export interface Tub {
  ID: number;
  Number: number;
  MixML: number;
  MixedAt: string;
}

export interface Machine {
  ID: number;
  Name: string;
  Kind: string;
  Rows: number;
  WheelM: number;
  MeterMin: number;
}

export interface DaySheet {
  MachineID: number;
  Day: string;
  MeterFromMin: number;
  MeterToMin: number;
  RowM: number;
  FuelML: number;
  StandbyMin: number;
  Placements: number;
  Note: string;
}

export interface CatchTrial {
  Turns: number;
  WheelM: number;
  Placements: number;
  CaughtML: number[][];
}

export type Kind = "tub" | "catch test" | "day sheet" | "meter" | "hopper" | "clean-out" | "drill load" | "count" | "fuel" | "standby start" | "standby stop" | "note" | "undo";

/** What remained in the hoppers at a clean-out. */
export interface Remains {
  MixML: number;
  Kept: boolean;
  Note?: string;
}

export interface TriedRemains {
  Parts: { Code: string; Name: string; Quantity: number }[]; // g of a lot, which has a code; mL of medium
}

/** What goes into the drill of one lot, in g. */
export interface DrillLine {
  LotID: number;
  Code: string;
  Name: string;
  Need: number;
  Loaded: number;
  OnHold: string; // why nothing may be sown from it; "" when it may
}

export interface DrillLoad {
  Ha: number;
  Note: string;
  Lots: { LotID: number; Grams: number }[] | null;
}

/** A count that is still to be walked, at the places drawn for it. */
export interface CountAhead {
  Kind: "first" | "autumn";
  PlanID: number;
  PerStretch: number;
  Places: string[] | null;
  Species: { Species: string; CommonName: string }[] | null;
  How: string[] | null;
  Cautions: string[] | null;
}

/** A count as it was taken. */
export interface Counted {
  PlanID: number;
  Kind: "first" | "autumn";
  CountedOn: string;
  CountedBy: string;
  Stretches: { Place: number; Placements: number; Occupied: number }[];
  Seen: { Species: string; Placements: number }[] | null;
  Volunteers: string;
  Note: string;
}

/** What was entered, as it goes to the office. */
export interface Entry {
  Key: string;
  Kind: Kind;
  PersonID: number;
  JobID: number;
  At: string; // by this phone's clock
  SentAt?: string;
  Tub?: Tub;
  Catch?: CatchTrial;
  Day?: Partial<DaySheet>;
  Meter?: { MachineID: number; Minutes: number; WasMin: number; On: string };
  Hopper?: { LeftL: number; RowM: number };
  Remains?: Remains;
  Drill?: DrillLoad;
  Count?: Counted;
  FuelML?: number;
  Text?: string;
  PhotoBytes?: number; // of the photo that goes with a note
  Undoes?: { Key?: string; Kind?: Kind; ID?: number };
}

/** waiting: here alone; kept: the office has it; refused: the office said no, and the person
    has not dealt with it; let go: they have. */
export type State = "waiting" | "kept" | "refused" | "let go";

export interface Queued {
  seq: number;
  key: string;
  entry: Entry;
  state: State;
  told?: string;
  nextTub?: number;
  inDay?: boolean; // the day's work, as loaded, holds it already
}

export interface TruckJob {
  Facts: { Job: { ID: number; Code: string; Name: string }; Farm: { Name: string }; Recipe: { PlacementML: number } | null; DaySheets: DaySheet[] | null };
  Rows: { RowM: number };
  Kept: Entry[] | null; // what other nouns do not hold: notes among them
}

export interface TruckDay {
  Day: string;
  At: string;
  Zone: string;
  PersonID: number;
  Person: string;
  Demo: boolean;
  Jobs: TruckJob[];
  Machines: Machine[] | null;
  Services: string[] | null; // of machines due soon
  Token: string;
}

export interface SheetLot {
  LotID: number;
  Code: string;
  Name: string;
}

export interface View {
  SownM: number;
  Sheet: { Short: string; Lots: SheetLot[] | null; Tubs: { Number: number; MixL: number; RowM: number; Grams: number[] }[] | null; Medium: string; RowM: number; Cautions: string[] | null };
  Cannot: string;
  Tub: Tub | null;
  LastTub: number;
  Mixed: Tub | null;
  CleanOut: { ID: number; MixML: number } | null;
  Drill: { Lines: DrillLine[] | null; Ha: number; LoadedHa: number } | null;
  Loaded: (DrillLoad & { ID: number }) | null;
  Catch: { ID: number } | null;
  Metering: Metering | null;
  RunOut: { Says: string; Warning: string; SownM: number; LeftL: number } | null;
  Standby: { Since: string | null; Minutes: number };
  FuelML: number;
  Count: CountAhead | null;
}

export interface Metering {
  placement_volume_ml: number;
  deviation_percent: number;
  within_tolerance: boolean;
  new_setting_factor: number;
  row_km_per_tub: number;
}

export interface Tried {
  Catch: { SpacingM: number; RunM: number };
  Spread: { OutletML: number[]; Says: string };
  Metering: Metering;
}
