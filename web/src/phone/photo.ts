// A photo as it goes on record: at most 2000 px on its longer side, JPEG, without the camera's notes of place and owner.
const longestPx = 2000;
const quality = 0.85;

/** Size that fits; never larger than it was. */
export function fitted(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, longestPx / Math.max(width, height));
  return { width: Math.round(width * scale), height: Math.round(height * scale) };
}

function encoded(canvas: HTMLCanvasElement, type: string): Promise<Blob> {
  return new Promise((resolve, reject) =>
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error('the picture could not be written'))),
      type,
      quality,
    ),
  );
}

export function pngOf(canvas: HTMLCanvasElement): Promise<Blob> {
  return encoded(canvas, 'image/png');
}

export async function smallPhoto(file: Blob): Promise<Blob> {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  const canvas = document.createElement('canvas');
  Object.assign(canvas, fitted(picture.width, picture.height));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return encoded(canvas, 'image/jpeg');
}
