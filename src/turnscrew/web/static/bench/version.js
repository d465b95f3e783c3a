// Is this page of the version that the records serve, and how does it become it?

const TRIED = "turnscrew-bench-version";

const here = () => document.getElementById("bench").dataset.version;

export function isNewer(version) {
  return Boolean(version) && version !== here();
}

// Once for each version: one that does not come is not fetched for ever, nor are two
// that take turns behind one address. What is kept lies on the disk and is there again.
export async function loadAnew(version) {
  const tried = `${TRIED} ${version}`;
  if (sessionStorage.getItem(tried)) return;
  sessionStorage.setItem(tried, "1");
  try {
    const kept = await navigator.serviceWorker?.getRegistration();
    if (kept) await renewed(await kept.update() || kept);
    location.reload();
  } catch {
    // No network after all: the next look at the records tries once more.
    sessionStorage.removeItem(tried);
  }
}

// A page loaded before the newer worker is in place would be the older one again.
function renewed(kept) {
  const worker = kept.installing || kept.waiting;
  if (!worker) return undefined;
  return new Promise((done) => {
    const look = () => ["activated", "redundant"].includes(worker.state) && done();
    worker.addEventListener("statechange", look);
    look();
  });
}
