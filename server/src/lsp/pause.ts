/** Lets waiting messages be handled, then goes on. A worker has no `setImmediate`, and its timers wait too long. */
export const pause = (): Promise<void> =>
  new Promise((resolve) => {
    if (typeof setImmediate === 'function') {
      setImmediate(resolve);
      return;
    }
    const channel = new MessageChannel();
    channel.port1.onmessage = () => {
      channel.port1.close();
      resolve();
    };
    channel.port2.postMessage(null);
  });
