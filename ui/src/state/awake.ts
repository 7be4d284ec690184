/** Keeps the screen lit, where the platform can; what is answered lets it go dark again. */
export function stayAwake(): () => void {
  let held: WakeLockSentinel | undefined
  let over = false
  const hold = async () => {
    if (over || document.visibilityState !== 'visible') return
    held = await navigator.wakeLock?.request('screen').catch(() => undefined)
    if (over) void held?.release()
  }
  void hold()
  document.addEventListener('visibilitychange', hold)
  return () => {
    over = true
    document.removeEventListener('visibilitychange', hold)
    void held?.release()
  }
}
