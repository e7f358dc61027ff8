// Asking the workbench: JSON there and back, with what went wrong as data.

/** An answer that is no "yes": what is wrong, each with its field, reason and remedy. */
export class Refused extends Error {
  constructor(status, data) {
    super(data.problems?.map((problem) => `${problem.field}: ${problem.reason}`).join("; ") ?? `status ${status}`);
    this.status = status;
    this.data = data;
    this.problems = data.problems ?? [];
  }

  /** Another question took this one's place, or the machine is busy: it can be asked again. */
  get passing() {
    return this.status === 410 || this.status === 503;
  }
}

/** The workbench does not answer at all. */
export class Away extends Error {}

export async function get(path) {
  return read(await reach(path, { headers: { accept: "application/json" } }));
}

export async function post(path, data = {}) {
  return read(
    await reach(path, {
      method: "POST",
      headers: { "content-type": "application/json", accept: "application/json" },
      body: JSON.stringify(data),
    }),
  );
}

export async function postFile(path, file) {
  return read(
    await reach(path, {
      method: "POST",
      headers: { "content-type": "application/octet-stream", accept: "application/json" },
      body: file,
    }),
  );
}

async function reach(path, options) {
  try {
    return await fetch(path, { ...options, credentials: "same-origin", cache: "no-store" });
  } catch (error) {
    throw new Away(String(error));
  }
}

async function read(response) {
  let data = {};
  try {
    data = await response.json();
  } catch {
    data = {};
  }
  if (!response.ok) throw new Refused(response.status, data);
  return data;
}
