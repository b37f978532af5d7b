import type { Photo } from "../pictures/photo.js";
import type { Painted } from "./picture.js";

/** What the houses stand on: hills, or a photo as soon as that is loaded. */
export class Ground {
  private photo: Photo | null = null;
  private loaded: Painted | null = null;

  /** `say` takes what is to be read of a photo that cannot be shown; `ready` is called when one can. */
  constructor(
    private readonly say: (text: string) => void,
    private readonly ready: () => void,
  ) {}

  /** The photo to paint; null: hills. */
  get painted(): Painted | null {
    return this.loaded;
  }

  /** Takes another photo; null: hills. */
  lay(photo: Photo | null): void {
    if (photo === this.photo) return;
    this.photo = photo;
    this.loaded = null;
    if (photo !== null) void this.load(photo);
  }

  private async load(photo: Photo): Promise<void> {
    const image = new Image();
    image.src = photo.address;
    try {
      await image.decode();
    } catch {
      this.say(`${photo.name} cannot be shown here: it is damaged, or of a kind that this browser does not know.`);
      return;
    }
    if (this.photo !== photo) return;
    this.loaded = { image, width: photo.width, height: photo.height };
    this.ready();
  }
}
