/** What is drawn: rings, each with what it is, and the way back. No map, no measure. */
export type Kind = "outside" | "hole" | "no-go";

/** A corner: latitude and longitude in degrees. */
export type Corner = [number, number];

export interface Ring {
  kind: Kind;
  corners: Corner[];
}

interface Drawn {
  rings: Ring[];
  open: Ring | undefined; // the one being drawn
}

/** The fewest corners that hold ground. */
export const fewest = 3;

const mostStepsBack = 200;

export class Rings {
  private drawn: Drawn = { rings: [], open: undefined };
  private past: Drawn[] = [];

  constructor(geojson: string) {
    for (const feature of JSON.parse(geojson).features) {
      const ring: [number, number][] = feature.geometry.coordinates[0].slice(0, -1);
      this.drawn.rings.push({ kind: feature.properties.kind, corners: ring.map(([lon, lat]) => [lat, lon]) });
    }
  }

  get all(): Ring[] {
    return this.drawn.open ? [...this.drawn.rings, this.drawn.open] : this.drawn.rings;
  }

  get open(): Ring | undefined {
    return this.drawn.open;
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  /** Marks a place to come back to. */
  mark(): void {
    this.past.push(structuredClone(this.drawn));
    if (this.past.length > mostStepsBack) this.past.shift();
  }

  undo(): void {
    this.drawn = this.past.pop() ?? this.drawn;
  }

  begin(kind: Kind): void {
    if (this.drawn.open && this.drawn.open.corners.length === 0) this.drawn.open.kind = kind;
    else {
      this.mark();
      this.finish();
      this.drawn.open = { kind, corners: [] };
    }
  }

  /** Closes the ring that is being drawn; one that holds no ground is let go. */
  close(): void {
    this.mark();
    this.finish();
  }

  private finish(): void {
    if (this.drawn.open && this.drawn.open.corners.length >= fewest) this.drawn.rings.push(this.drawn.open);
    this.drawn.open = undefined;
  }

  add(at: Corner): void {
    this.mark();
    this.drawn.open?.corners.push(rounded(at));
  }

  insert(ring: Ring, index: number, at: Corner): void {
    this.mark();
    ring.corners.splice(index, 0, rounded(at));
  }

  move(ring: Ring, index: number, at: Corner): void {
    ring.corners[index] = rounded(at);
  }

  /** Takes a corner out, and the whole ring when it would hold no ground without it. */
  take(ring: Ring, index: number): void {
    this.mark();
    if (ring === this.drawn.open || ring.corners.length > fewest) ring.corners.splice(index, 1);
    else this.drop(ring);
  }

  takeAll(ring: Ring): void {
    this.mark();
    this.drop(ring);
  }

  private drop(ring: Ring): void {
    if (ring === this.drawn.open) this.drawn.open = undefined;
    else this.drawn.rings.splice(this.drawn.rings.indexOf(ring), 1);
  }

  /** The rings that hold ground, as GeoJSON. */
  text(): string {
    const features = this.all
      .filter((ring) => ring.corners.length >= fewest)
      .map((ring) => {
        const line = ring.corners.map(([lat, lon]) => [lon, lat]);
        return { type: "Feature", properties: { kind: ring.kind }, geometry: { type: "Polygon", coordinates: [[...line, line[0]]] } };
      });
    return JSON.stringify({ type: "FeatureCollection", features });
  }
}

/** To 1e-7 degree, about a centimetre: nobody draws finer. */
function rounded([lat, lon]: Corner): Corner {
  return [Math.round(lat * 1e7) / 1e7, Math.round(lon * 1e7) / 1e7];
}
