/** Joins what is drawn, the map, the buttons and the office's figures. */
import * as L from "leaflet";
import { Follower } from "../page/follow";
import { type Start, colour, mapOf } from "./ground";
import { Handles, type Holder } from "./handles";
import { type Corner, type Kind, type Ring, Rings, fewest } from "./rings";

const names: Record<Kind, string> = { outside: "Outside", hole: "Hole", "no-go": "No-go area" };

export class Drawing implements Holder {
  private readonly rings: Rings;
  private readonly map: L.Map;
  private readonly handles: Handles;
  private readonly areas = L.layerGroup();
  private readonly shapes = new Map<Ring, L.Polygon>();
  private readonly measured: Follower<string>;
  private chosen: Ring | undefined;
  private corner: number | undefined;

  constructor(
    private readonly form: HTMLFormElement,
    start: Start,
  ) {
    this.rings = new Rings(this.field("drawn").value);
    this.map = mapOf(this.one(".map"), start);
    this.areas.addTo(this.map);
    this.handles = new Handles(this.map, this);
    this.measured = new Follower((drawn) => this.measure(drawn));
    this.chosen = this.rings.all[0];
    if (start.whole) this.fit(start);
    this.listen();
    if (this.rings.all.length === 0) this.rings.begin("outside");
    this.show();
  }

  private listen(): void {
    this.map.on("click", (event) => this.put([event.latlng.lat, event.latlng.lng]));
    this.map.on("moveend zoomend", () => this.showHandles());
    for (const button of this.form.querySelectorAll<HTMLButtonElement>("[data-draw]")) {
      button.addEventListener("click", () => {
        this.rings.begin(button.dataset.draw as Kind);
        this.show();
      });
    }
    const acts: Record<string, () => void> = {
      middle: () => this.put([this.map.getCenter().lat, this.map.getCenter().lng]),
      close: () => this.closes(),
      undo: () => this.undo(),
      corner: () => this.chosen && this.corner !== undefined && this.leaves(this.chosen, this.corner),
      area: () => this.takeArea(),
    };
    for (const [name, act] of Object.entries(acts)) this.button(name).addEventListener("click", act);
    this.form.addEventListener("keydown", (event) => {
      if (event.key !== "z" || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      this.undo();
    });
  }

  private fit(start: Start): void {
    const drawn = this.rings.all.map((ring) => ring.corners);
    const others = start.others.map((ring) => ring.map(([lon, lat]): Corner => [lat, lon]));
    const bounds = L.latLngBounds((drawn.length > 0 ? drawn : others).flat());
    if (bounds.isValid()) this.map.fitBounds(bounds, { padding: [36, 36], maxZoom: 18, animate: false });
  }

  /** Puts a corner where the map was pressed, while a ring is being drawn. */
  private put(at: Corner): void {
    if (!this.rings.open) return;
    this.rings.add(at);
    this.show();
  }

  taken(ring: Ring, index: number): void {
    this.chosen = ring;
    this.corner = index;
    this.show();
  }

  begins(): void {
    this.rings.mark();
  }

  moves(ring: Ring, index: number, at: Corner): void {
    this.rings.move(ring, index, at);
    this.shapes.get(ring)?.setLatLngs(ring.corners);
    this.told();
  }

  moved(): void {
    this.show();
  }

  added(ring: Ring, index: number, at: Corner): void {
    this.rings.insert(ring, index, at);
    this.corner = index;
  }

  leaves(ring: Ring, index: number): void {
    this.rings.take(ring, index);
    this.corner = undefined;
    this.show();
  }

  closes(): void {
    const closed = this.rings.open;
    this.rings.close();
    this.corner = undefined;
    if (closed && this.rings.all.includes(closed)) this.chosen = closed;
    this.show();
  }

  private undo(): void {
    this.rings.undo();
    this.corner = undefined;
    this.show();
  }

  private takeArea(): void {
    const ring = this.rings.open ?? this.chosen;
    if (!ring) return;
    this.rings.takeAll(ring);
    this.corner = undefined;
    this.show();
  }

  /** Draws everything anew, and asks for its hectares. */
  private show(): void {
    if (!this.chosen || !this.rings.all.includes(this.chosen)) {
      this.chosen = this.rings.all[0];
      this.corner = undefined;
    }
    this.showAreas();
    this.showHandles();
    this.showButtons();
    this.told();
  }

  private showAreas(): void {
    this.areas.clearLayers();
    this.shapes.clear();
    for (const ring of this.rings.all) {
      const shape = L.polygon(ring.corners, styleOf(ring, ring === this.chosen)).addTo(this.areas);
      shape.on("click", () => {
        if (this.rings.open) return; // the press is a corner of what is being drawn
        this.chosen = ring;
        this.corner = undefined;
        this.show();
      });
      this.shapes.set(ring, shape);
    }
  }

  private showHandles(): void {
    const ring = this.rings.open ?? this.chosen;
    const room = this.handles.show(ring, this.corner, this.rings.open !== undefined);
    this.one(".telling").textContent = room ? this.says() : "Come closer to take hold of its corners: there are too many in view.";
  }

  private says(): string {
    const open = this.rings.open;
    if (open && open.corners.length < fewest) return `${names[open.kind]}: press the map at each corner, in order round it.`;
    if (open) return `${names[open.kind]}: press at the next corner, or the first one again to close the ring.`;
    const at = this.corner === undefined ? undefined : this.chosen?.corners[this.corner];
    if (this.chosen && at) return `${names[this.chosen.kind]}, corner ${this.corner! + 1}: ${at[0].toFixed(6)}, ${at[1].toFixed(6)}. Drag it, or move it with the arrow keys.`;
    if (this.chosen) return `${names[this.chosen.kind]}: drag a corner to move it, or a small one to make a new corner. Press another area to choose it.`;
    return "Choose what to draw.";
  }

  private showButtons(): void {
    const open = this.rings.open;
    for (const button of this.form.querySelectorAll<HTMLButtonElement>("[data-draw]")) {
      button.setAttribute("aria-pressed", String(button.dataset.draw === open?.kind));
    }
    this.form.classList.toggle("at-work", open !== undefined);
    this.button("middle").hidden = !open;
    this.button("close").hidden = !open || open.corners.length < fewest;
    this.button("corner").hidden = this.corner === undefined || open !== undefined;
    this.button("area").hidden = !(open ? open.corners.length > 0 : this.chosen);
    this.button("undo").setAttribute("aria-disabled", String(!this.rings.canUndo));
  }

  private told(): void {
    const text = this.rings.text();
    this.field("drawn").value = text;
    this.measured.ask(text);
  }

  private async measure(drawn: string): Promise<void> {
    const figures = this.one(".figures");
    try {
      const body = new URLSearchParams({ csrf: this.field("csrf").value, drawn });
      const answer = await fetch(this.form.dataset.measure ?? "", { method: "POST", body });
      if (!answer.ok) throw new Error(answer.statusText);
      figures.innerHTML = await answer.text();
    } catch {
      figures.textContent = "The office does not answer: how much ground this is shows once it does.";
    }
  }

  private field(name: string): HTMLInputElement {
    return this.one<HTMLInputElement>(`input[name="${name}"]`);
  }

  private button(name: string): HTMLButtonElement {
    return this.one<HTMLButtonElement>(`[data-do="${name}"]`);
  }

  private one<Kind extends HTMLElement>(selector: string): Kind {
    return this.form.querySelector<Kind>(selector)!;
  }
}

function styleOf(ring: Ring, chosen: boolean): L.PolylineOptions {
  const weight = chosen ? 3 : 2;
  if (ring.kind === "outside") return { color: colour("ink"), weight, fillColor: colour("crust"), fillOpacity: 0.1 };
  if (ring.kind === "hole") return { color: colour("water"), weight, fillColor: colour("pond"), fillOpacity: 0.6 };
  return { color: colour("clay"), weight, dashArray: "7 5", fillColor: colour("claypale"), fillOpacity: 0.5 };
}
