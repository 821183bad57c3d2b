package lodestep.adapter.sound;

/** What samples are given to. One thread, which may be held up in it. */
interface Speaker extends AutoCloseable {

  /**
   * Takes these bytes, and returns when there is room for more.
   *
   * @return whether it took them all; a device that is gone does not
   */
  boolean write(byte[] bytes);

  @Override
  void close();

  /** Opens one. */
  interface Source {

    /**
     * Opens it; may hold its thread up as long as the system likes.
     *
     * @throws NoSpeakerException when there is none to be had
     */
    Speaker open() throws NoSpeakerException;
  }
}
