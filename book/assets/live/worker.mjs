// Runs the course's Python beside the page. One message starts it: its own creation. Then {id, request} is answered
// with {id, response} or {id, error}; all three are texts. Before that it says {progress} and, once, {ready} or {failed}.
// What takes long also says {id, progress: {done, total}} before its answer.

const beside = (address) => new URL(address, import.meta.url).href;

const LOST = "Python could not be fetched";

async function fetched(address, what) {
  const answer = await fetch(beside(address), { cache: "no-cache" }).catch(() => undefined);
  if (!answer?.ok) throw new Error(`${what} could not be fetched`);
  return answer;
}

// Pyodide waits for ever when its WebAssembly does not arrive; this promise is rejected as soon as any fetch fails.
function missing() {
  const plain = self.fetch;
  return new Promise((_, reject) => {
    self.fetch = async (...request) => {
      try {
        const answer = await plain(...request);
        if (!answer.ok) reject(new Error(LOST));
        return answer;
      } catch (error) {
        reject(new Error(LOST));
        throw error;
      }
    };
  });
}

async function runtime(indexURL) {
  const { loadPyodide } = await import(`${indexURL}pyodide.mjs`).catch(() => {
    throw new Error(LOST);
  });
  return loadPyodide({ indexURL, packages: [] });
}

async function started() {
  const course = await (await fetched("course.json", "the list of the course's files")).json();
  const bundle = fetched(course.course, "the course's Python").then((answer) => answer.arrayBuffer());
  bundle.catch(() => {}); // reported where it is awaited
  postMessage({ progress: "Starting Python. It runs here, in your browser." });
  const indexURL = beside(course.python);
  const python = await Promise.race([missing(), runtime(indexURL)]);
  postMessage({ progress: "Unpacking the course." });
  const home = python.runPython("import sysconfig; sysconfig.get_path('purelib')");
  python.unpackArchive(await bundle, "zip", { extractDir: home });
  postMessage({ progress: "Laying out the bench." });
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
