/** The corners that can be taken hold of: by finger, mouse and keys. */
import * as L from "leaflet";
import { type Corner, type Ring, fewest } from "./rings";

/** What becomes of a corner that is taken hold of. */
export interface Holder {
  taken(ring: Ring, index: number): void; // chosen
  begins(): void; // a move begins
  moves(ring: Ring, index: number, at: Corner): void;
  moved(): void;
  added(ring: Ring, index: number, at: Corner): void; // a corner between two others
  leaves(ring: Ring, index: number): void; // is to be taken out
  closes(): void; // the first corner of the ring being drawn
}

/** More than these in view would hide the ground. */
const mostShown = 150;

/** How far apart, in pixels, two corners must be for a handle between them. */
const roomBetween = 90;

const pixelsAKey = 2;

export class Handles {
  private readonly layer = L.layerGroup();

  constructor(
    private readonly map: L.Map,
    private readonly holder: Holder,
  ) {
    this.layer.addTo(map);
  }

  /** Shows the handles of a ring; false when there are too many in view. */
  show(ring: Ring | undefined, chosen: number | undefined, open: boolean): boolean {
    this.layer.clearLayers();
    if (!ring) return true;
    const view = this.map.getBounds().pad(0.1);
    const seen = ring.corners.flatMap((corner, index) => (view.contains(corner) ? [index] : []));
    if (seen.length > mostShown) return false;
    for (const index of seen) this.corner(ring, index, index === chosen, open);
    if (!open) for (const index of seen) this.between(ring, index);
    return true;
  }

  private corner(ring: Ring, index: number, chosen: boolean, open: boolean): void {
    const closes = open && index === 0 && ring.corners.length >= fewest;
    const kind = `corner${chosen ? " chosen" : ""}${closes ? " first" : ""}`;
    const words = closes ? "First corner: press to close the ring" : `Corner ${index + 1} of ${ring.corners.length}`;
    const marker = this.marker(ring.corners[index]!, kind, 44, words);
    marker.on("click", () => (closes ? this.holder.closes() : this.holder.taken(ring, index)));
    this.drags(marker, ring, index, () => this.holder.begins());
    marker.getElement()?.addEventListener("keydown", (event) => this.key(event, marker, ring, index));
  }

  private between(ring: Ring, index: number): void {
    const after = (index + 1) % ring.corners.length;
    const from = this.map.latLngToContainerPoint(ring.corners[index]!);
    const to = this.map.latLngToContainerPoint(ring.corners[after]!);
    if (from.distanceTo(to) < roomBetween) return;
    const middle = this.map.containerPointToLatLng(from.add(to).divideBy(2));
    const marker = this.marker([middle.lat, middle.lng], "between", 30, `A new corner between ${index + 1} and ${after + 1}`);
    const put = () => this.holder.added(ring, index + 1, place(marker));
    marker.on("click", () => {
      put();
      this.holder.moved();
    });
    this.drags(marker, ring, index + 1, put);
  }

  private marker(at: Corner, kind: string, size: number, words: string): L.Marker {
    const icon = L.divIcon({ className: kind, iconSize: [size, size] });
    return L.marker(at, { icon, draggable: true, alt: words, title: words, keyboard: true, autoPan: true }).addTo(this.layer);
  }

  private drags(marker: L.Marker, ring: Ring, index: number, begins: () => void): void {
    marker.on("dragstart", begins);
    marker.on("drag", () => this.holder.moves(ring, index, place(marker)));
    marker.on("dragend", () => this.holder.moved());
  }

  private key(event: KeyboardEvent, marker: L.Marker, ring: Ring, index: number): void {
    const way = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] }[event.key];
    if (event.key === "Delete" || event.key === "Backspace") this.holder.leaves(ring, index);
    else if (way) {
      const [right, down] = way as [number, number];
      const at = this.map.latLngToContainerPoint(marker.getLatLng()).add([right * pixelsAKey, down * pixelsAKey]);
      this.holder.begins();
      marker.setLatLng(this.map.containerPointToLatLng(at));
      this.holder.moves(ring, index, place(marker));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }
}

function place(marker: L.Marker): Corner {
  const at = marker.getLatLng();
  return [at.lat, at.lng];
}
