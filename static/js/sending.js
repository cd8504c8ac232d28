// What every script that saves for its page needs to know.

// A name that no other page has had. crypto.randomUUID would be shorter, but browsers have it only over TLS.
export function randomName() {
  const bytes = crypto.getRandomValues(new Uint8Array(10));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// Whether the server will not take this, however often it is sent; what came too early or too often it may take yet.
export function isRefusal(response) {
  return response.status >= 400 && response.status < 500 && ![408, 425, 429].includes(response.status);
}
