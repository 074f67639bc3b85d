/** A program packed for the way to a page: deflated, in letters that may stand in a script. */
import { deflateSync, inflateSync, strFromU8, strToU8 } from "fflate";

/** A text, packed. */
export function packed(text: string): string {
  return strToBase64(deflateSync(strToU8(text), { level: 9 }));
}

/** A packed text as it was. @throws {Error} where it was not packed by `packed` */
export function unpacked(text: string): string {
  return strFromU8(inflateSync(Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))));
}

function strToBase64(bytes: Uint8Array): string {
  let letters = "";
  // String.fromCharCode takes no more than some ten thousand at once
  for (let at = 0; at < bytes.length; at += 8192) {
    letters += String.fromCharCode(...bytes.subarray(at, at + 8192));
  }
  return btoa(letters);
}
