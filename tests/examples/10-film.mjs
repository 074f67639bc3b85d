// What a film of metal sends back, by its thickness
import { mirrorFilm } from "first-mirror/coating";

for (const nm of [20, 50, 100]) {
  const { reflected, transmitted } = mirrorFilm("silver", nm);
  console.log(
    `${nm} nm: ${(100 * reflected).toFixed(0)} % back, ${(100 * transmitted).toFixed(1)} % through`,
  );
}
