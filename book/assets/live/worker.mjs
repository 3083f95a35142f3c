// Runs the course's Python beside the page. One message starts it: its own creation. Then {id, request} is answered
// with {id, response} or {id, error}; all three are texts. Before that it says {progress} and, once, {ready} or {failed}.
// What takes long also says {id, progress: {done, total}} before its answer.

const beside = (address) => new URL(address, import.meta.url).href;

const LOST = "Python could not be fetched";
const COURSE = "/course.zip"; // Python reads its modules out of the archive, each when it is imported

async function fetched(address, what) {
  const answer = await fetch(beside(address), { cache: "no-cache" }).catch(() => undefined);
  if (!answer?.ok) throw new Error(`${what} could not be fetched`);
  return answer;
}

// What Pyodide will ask for one after the other is asked for at once. It waits for ever when its WebAssembly does not
// arrive; the promise `lost` is rejected as soon as any fetch fails.
function hastened(addresses) {
  const plain = self.fetch;
  const lost = Promise.withResolvers();
  const arriving = async (...request) => {
    try {
      const answer = await plain(...request);
      if (!answer.ok) lost.reject(new Error(LOST));
      return answer;
    } catch (error) {
      lost.reject(new Error(LOST));
      throw error;
    }
  };
  const early = new Map(addresses.map((address) => [address, arriving(address)]));
  for (const answer of early.values()) answer.catch(() => {}); // reported by `lost`
  self.fetch = (...request) => {
    const address = String(request[0]?.url ?? request[0]);
    const answer = early.get(address) ?? arriving(...request);
    early.delete(address); // a body is read once
    return answer;
  };
  return lost.promise;
}

async function runtime(indexURL, stdLibURL) {
  import(`${indexURL}pyodide.asm.mjs`).catch(() => {}); // fetched and read beside the one that will import it
  const { loadPyodide } = await import(`${indexURL}pyodide.mjs`).catch(() => {
    throw new Error(LOST);
  });
  return loadPyodide({ indexURL, stdLibURL, packages: [] });
}

async function started() {
  const course = await (await fetched("course.json", "the list of the course's files")).json();
  postMessage({ progress: "Starting Python. It runs here, in your browser." });
  const indexURL = beside(course.python);
  const library = beside(course.library);
  const lost = hastened([`${indexURL}pyodide.asm.wasm`, library]);
  const bundle = fetched(course.course, "the course's Python").then((answer) => answer.arrayBuffer());
  bundle.catch(() => {}); // reported where it is awaited
  const python = await Promise.race([lost, runtime(indexURL, library)]);
  postMessage({ progress: "Laying out the bench." });
  python.FS.writeFile(COURSE, new Uint8Array(await bundle));
  python.globals.get("__import__")("sys").path.insert(0, COURSE);
  return python.pyimport("solvers.screens.page").handle;
}

const answering = started();
answering.then(
  () => postMessage({ ready: true }),
  (error) => postMessage({ failed: String(error?.message ?? error) }),
);

onmessage = async ({ data: { id, request } }) => {
  try {
    const told = (done, total) => postMessage({ id, progress: { done, total } });
    postMessage({ id, response: (await answering)(request, told) });
  } catch (error) {
    postMessage({ id, error: String(error?.message ?? error) });
  }
};
