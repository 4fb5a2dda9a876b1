/** The map itself: imagery where the contractor has set an address, else a plain grid. */
import * as L from "leaflet";

/** What the office says of the map. */
export interface Start {
  others: [number, number][][]; // the farm's other paddocks: longitude, latitude
  lines: [number, number][][]; // no-go lines and points that a file gave
  points: [number, number][];
  at: [number, number]; // latitude, longitude
  degree: [number, number]; // metres to a degree of latitude and of longitude
  whole: boolean; // opens on all that is there
  tiles: string;
  level: number;
}

const closest = 22;

/** A colour of the style sheet's own list. */
export function colour(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
}

export function mapOf(holder: HTMLElement, start: Start): L.Map {
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const map = L.map(holder, {
    attributionControl: false,
    doubleClickZoom: false,
    preferCanvas: true,
    fadeAnimation: false,
    zoomAnimation: !still,
    maxZoom: closest,
    minZoom: 3,
  });
  map.setView(start.at, 16);
  const said = caption(map);
  if (start.tiles) underlay(map, start, said);
  else grid(map, start, said);
  const soft = { interactive: false, color: colour("soft") };
  for (const other of start.others) L.polygon(turned(other), { ...soft, weight: 1.5, fill: false, dashArray: "2 5" }).addTo(map);
  for (const line of start.lines) L.polyline(turned(line), { ...soft, weight: 2.5, dashArray: "7 4" }).addTo(map);
  for (const point of turned(start.points)) L.circleMarker(point, { ...soft, radius: 5, fillOpacity: 1 }).addTo(map);
  return map;
}

/** Places with their latitude first. */
function turned(places: [number, number][]): [number, number][] {
  return places.map(([lon, lat]) => [lat, lon]);
}

/** A line of words in the map's corner. */
function caption(map: L.Map): HTMLElement {
  const words = L.DomUtil.create("p", "squares");
  const control = new L.Control({ position: "bottomright" });
  control.onAdd = () => words;
  control.addTo(map);
  return words;
}

function underlay(map: L.Map, start: Start, said: HTMLElement): void {
  L.control.scale({ imperial: false }).addTo(map);
  const tiles = L.tileLayer(start.tiles, { maxNativeZoom: start.level, maxZoom: closest });
  tiles.on("tileerror", () => (said.textContent = "Some imagery does not come"));
  tiles.addTo(map);
}

/** Lines a round count of metres apart, ruled from the place where the map opens. */
function grid(map: L.Map, start: Start, said: HTMLElement): void {
  new Ruled((at) => ruled(map, start, at), { maxZoom: closest }).addTo(map);
  const tell = () => (said.textContent = `Squares of ${stepAt(start, map.getZoom())} m`);
  map.on("zoomend", tell);
  tell();
}

class Ruled extends L.GridLayer {
  constructor(
    private readonly draw: (at: L.Coords) => HTMLElement,
    options: L.GridLayerOptions,
  ) {
    super(options);
  }

  override createTile(at: L.Coords): HTMLElement {
    return this.draw(at);
  }
}

/** The least of 1, 2 and 5 times a power of ten metres that is 70 px wide or more. */
function stepAt(start: Start, zoom: number): number {
  const metresToPixel = (360 / (256 * 2 ** zoom)) * start.degree[1];
  const least = 70 * metresToPixel;
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((times) => times * power).find((step) => step >= least) ?? 10 * power;
}

function ruled(map: L.Map, start: Start, at: L.Coords): HTMLElement {
  const size = L.point(256, 256);
  const tile = L.DomUtil.create("canvas");
  tile.width = size.x;
  tile.height = size.y;
  const pen = tile.getContext("2d");
  if (!pen) return tile;
  pen.strokeStyle = colour("rule");
  const corner = at.scaleBy(size);
  const northWest = map.unproject(corner, at.z);
  const southEast = map.unproject(corner.add(size), at.z);
  const step = stepAt(start, at.z);
  const line = (from: L.PointTuple, to: L.PointTuple) => {
    pen.beginPath();
    pen.moveTo(...from);
    pen.lineTo(...to);
    pen.stroke();
  };
  for (const lon of lines(northWest.lng, southEast.lng, start.at[1], step / start.degree[1])) {
    const x = Math.round(map.project([start.at[0], lon], at.z).x - corner.x) + 0.5;
    line([x, 0], [x, size.y]);
  }
  for (const lat of lines(southEast.lat, northWest.lat, start.at[0], step / start.degree[0])) {
    const y = Math.round(map.project([lat, start.at[1]], at.z).y - corner.y) + 0.5;
    line([0, y], [size.x, y]);
  }
  return tile;
}

/** The places between two ends that lie whole steps from an origin. */
function lines(low: number, high: number, origin: number, step: number): number[] {
  const found: number[] = [];
  for (let k = Math.ceil((low - origin) / step); origin + k * step <= high; k++) found.push(origin + k * step);
  return found;
}
