// What a bench keeps by itself, so that nothing told is lost without a network.

const NAME = "turnscrew-bench";
const STORES = ["runs", "queue", "told"];
let opened = null;

function database() {
  opened ||= new Promise((resolve, reject) => {
    const wish = indexedDB.open(NAME, 1);
    wish.onupgradeneeded = () => {
      for (const store of STORES)
        wish.result.createObjectStore(store, { autoIncrement: store === "queue" });
    };
    wish.onsuccess = () => resolve(wish.result);
    wish.onerror = () => reject(wish.error);
  });
  return opened;
}

async function within(store, mode, work) {
  const base = await database();
  return new Promise((resolve, reject) => {
    // On the disk before anybody hears that it is done: a power cut may follow.
    const turn = base.transaction(store, mode, { durability: "strict" });
    const wish = work(turn.objectStore(store));
    turn.oncomplete = () => resolve(wish.result);
    turn.onerror = turn.onabort = () => reject(turn.error);
  });
}

export const keep = (store, key, value) =>
  within(store, "readwrite", (rows) => rows.put(value, key));
export const kept = (store, key) => within(store, "readonly", (rows) => rows.get(key));
export const names = (store) => within(store, "readonly", (rows) => rows.getAllKeys());
export const all = (store) => within(store, "readonly", (rows) => rows.getAll());
export const drop = (store, key) =>
  within(store, "readwrite", (rows) => rows.delete(key));
export const add = (store, value) =>
  within(store, "readwrite", (rows) => rows.add(value));

// Choices of one screen: name of the bench, size of its letters, pedals, sounds.
const SETTINGS = "turnscrew-bench-settings";
export function settings() {
  try {
    return JSON.parse(localStorage.getItem(SETTINGS)) || {};
  } catch {
    return {};
  }
}
export function set(changes) {
  localStorage.setItem(SETTINGS, JSON.stringify({ ...settings(), ...changes }));
}

// Photos that came to this screen, by device and layer: a page loaded anew knows them.
const PHOTOS = "turnscrew-bench-photos";
const MOST_PHOTOS = 200;
export function photosKept() {
  try {
    return new Map(JSON.parse(localStorage.getItem(PHOTOS)) || []);
  } catch {
    return new Map();
  }
}
export function keepPhotos(photos) {
  localStorage.setItem(PHOTOS, JSON.stringify([...photos].slice(-MOST_PHOTOS)));
}
