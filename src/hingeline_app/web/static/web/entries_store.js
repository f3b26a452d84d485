// What waits on this tablet: entries in the browser's own database, the oldest first. They are taken out once kept.
const NAME = "hingeline-entries", TABLE = "entries";
let opening = null;

function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(TABLE, { keyPath: "id", autoIncrement: true });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });
  return opening;
}

// Resolves once the transaction is on the disk, not before.
async function changed(act) {
  const base = await open();
  return new Promise((resolve, reject) => {
    const turn = base.transaction(TABLE, "readwrite", { durability: "strict" });
    const request = act(turn.objectStore(TABLE));
    turn.oncomplete = () => resolve(request.result);
    turn.onerror = turn.onabort = () => reject(turn.error ?? request.error);
  });
}

export const add = (entry) => changed((table) => table.add(entry));
export const put = (entry) => changed((table) => table.put(entry));
export const remove = (id) => changed((table) => table.delete(id));

export async function all() {
  const base = await open();
  return asked(base.transaction(TABLE).objectStore(TABLE).getAll());
}
