import { Refused } from './problem';
import type { components } from './api.gen';

type PhotoPut = components['schemas']['PhotoPut'];

// storePhoto sends a photograph's bytes as they are, telling how far it has come.
export function storePhoto(
  build: string,
  name: string,
  file: Blob,
  far: (share: number) => void = () => undefined,
): Promise<PhotoPut> {
  const to = `/api/builds/${encodeURIComponent(build)}/photos/${encodeURIComponent(name)}`;
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest(); // fetch tells nothing of how much was sent
    request.open('PUT', to);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.responseType = 'json';
    request.upload.onprogress = (e) => far(e.total > 0 ? e.loaded / e.total : 0);
    request.onerror = () => reject(new TypeError('not sent'));
    request.onload = () => {
      if (request.status < 300) resolve(request.response as PhotoPut);
      else
        reject(
          new Refused(
            request.response ?? { status: request.status, what: 'The photograph was refused.' },
          ),
        );
    };
    request.send(file);
  });
}

// plainName is a file's name as the build takes it.
export function plainName(name: string): string {
  const dot = name.lastIndexOf('.');
  const stem = (dot > 0 ? name.slice(0, dot) : name)
    .normalize('NFC')
    .replace(/[^\p{L}\p{N} _-]+/gu, '-');
  const ext = dot > 0 ? name.slice(dot).toLowerCase() : '.jpg';
  return `${stem.replace(/^[ _-]+/, '').slice(0, 60) || 'photo'}${ext}`;
}
