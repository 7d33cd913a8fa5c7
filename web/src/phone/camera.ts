// Reading a QR code: from camera frames while the label is held before them, or from a picture of it.
type Frame = HTMLVideoElement | ImageBitmap;
interface Detector {
  detect(frame: Frame): Promise<{ rawValue: string }[]>;
}
type DetectorClass = new (options: { formats: string[] }) => Detector;

const widestPx = 800;
const pauseMs = 150;

function detector(): Detector | null {
  const known = (globalThis as { BarcodeDetector?: DetectorClass }).BarcodeDetector;
  try {
    return known ? new known({ formats: ['qr_code'] }) : null;
  } catch {
    return null;
  }
}

function size(frame: Frame): { width: number; height: number } {
  return frame instanceof HTMLVideoElement
    ? { width: frame.videoWidth, height: frame.videoHeight }
    : { width: frame.width, height: frame.height };
}

async function byPixels(frame: Frame): Promise<string | null> {
  const { width, height } = size(frame);
  if (!width || !height) return null;
  const scale = Math.min(1, widestPx / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const ink = canvas.getContext('2d', { willReadFrequently: true });
  ink?.drawImage(frame, 0, 0, canvas.width, canvas.height);
  const pixels = ink?.getImageData(0, 0, canvas.width, canvas.height);
  if (!pixels) return null;
  const { default: jsQR } = await import('jsqr');
  return jsQR(pixels.data, pixels.width, pixels.height)?.data ?? null;
}

/** The text of a code in sight; null: none. */
export async function codeIn(frame: Frame): Promise<string | null> {
  const found = await detector()
    ?.detect(frame)
    .catch(() => []);
  return found?.[0]?.rawValue ?? byPixels(frame);
}

export async function codeInPicture(file: Blob): Promise<string | null> {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  const text = await codeIn(picture);
  picture.close();
  return text;
}

export function hasCamera(): boolean {
  return typeof navigator.mediaDevices?.getUserMedia === 'function';
}

/** Shows the camera in `video` and calls `found` for each code until the answer is called. */
export async function watch(video: HTMLVideoElement, found: (text: string) => void): Promise<() => void> {
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
  let over = false;
  const stop = () => {
    over = true;
    for (const track of stream.getTracks()) track.stop();
  };
  video.srcObject = stream;
  await video.play().catch(() => undefined);
  const look = async () => {
    if (over) return;
    const text = await codeIn(video).catch(() => null);
    if (text && !over) found(text);
    if (!over) setTimeout(look, pauseMs);
  };
  void look();
  return stop;
}
