// The photos that wait with their notes: scaled down, bare of where and when they were
// taken, and kept apart from the entries, which are read often.
import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import { Refused } from "./engine";

const mostPx = 1600; // of the longer side
const quality = 0.8;

interface Kept extends DBSchema {
  photos: { key: string; value: ArrayBuffer };
}

const open = (): Promise<IDBPDatabase<Kept>> =>
  openDB<Kept>("rowtally-truck-photos", 1, {
    upgrade(db) {
      db.createObjectStore("photos");
    },
  });

async function using<T>(act: (db: IDBPDatabase<Kept>) => Promise<T>): Promise<T> {
  const db = await open();
  try {
    return await act(db);
  } finally {
    db.close();
  }
}

export const keepPhoto = (key: string, photo: ArrayBuffer) => using((db) => db.put("photos", photo, key));

export const photoOf = (key: string): Promise<ArrayBuffer | undefined> => using((db) => db.get("photos", key));

export const forgetPhoto = (key: string) => using((db) => db.delete("photos", key));

/** rekey hands a photo on to the entry that takes its own entry's place. */
export async function rekey(from: string, to: string): Promise<void> {
  const photo = await photoOf(from);
  if (!photo) return;
  await keepPhoto(to, photo);
  await forgetPhoto(from);
}

/** tidyPhotos forgets the photos that no entry waits with. */
export async function tidyPhotos(wanted: string[]): Promise<void> {
  await using(async (db) => {
    for (const key of await db.getAllKeys("photos")) if (!wanted.includes(key)) await db.delete("photos", key);
  });
}

const unreadable = "This phone cannot read that file as a photo: take one here, or choose a JPEG or PNG";

/** scaled is a photo drawn anew, upright and at most so large: nothing but the picture goes
    over, neither where it was taken nor when. */
export async function scaled(file: File): Promise<HTMLCanvasElement> {
  const seen = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => {
    throw new Refused(unreadable, "photo");
  });
  const by = Math.min(1, mostPx / Math.max(seen.width, seen.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(seen.width * by));
  canvas.height = Math.max(1, Math.round(seen.height * by));
  canvas.getContext("2d")?.drawImage(seen, 0, 0, canvas.width, canvas.height);
  seen.close();
  return canvas;
}

/** packed is the picture as JPEG. */
export async function packed(canvas: HTMLCanvasElement): Promise<ArrayBuffer> {
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", quality));
  if (!blob) throw new Refused(unreadable, "photo");
  return blob.arrayBuffer();
}
