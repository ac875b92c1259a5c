// Text to bytes and back through gzip, with streams that also work inside a worker made from a Blob.

/** Bytes of a base64 text. */
export function fromBase64(text) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let at = 0; at < raw.length; at += 1) bytes[at] = raw.charCodeAt(at);
  return bytes;
}

async function through(stream, bytes) {
  const writer = stream.writable.getWriter();
  // Faults of the writing side also end the reading side, where they are reported.
  writer.write(bytes).catch(() => {});
  writer.close().catch(() => {});
  return new Uint8Array(await new Response(stream.readable).arrayBuffer());
}

/** Unpack gzip; rejects when the bytes are damaged (gzip carries its own check sum). */
export function gunzip(bytes) {
  return through(new DecompressionStream("gzip"), bytes);
}

/** Pack as gzip. */
export function gzip(bytes) {
  return through(new CompressionStream("gzip"), bytes);
}
