package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;

/** Pages that are open, and devices that ask so much a second, until it is closed. */
final class PageCrowd implements AutoCloseable {

  /** Below what one device may ask in a second. */
  private static final int PER_DEVICE = 25;

  private final AtomicBoolean over = new AtomicBoolean();
  private final AtomicLong answered = new AtomicLong();
  private final List<Socket> pages = new ArrayList<>();
  private final ExecutorService threads = Executors.newCachedThreadPool();

  private PageCrowd() {}

  static PageCrowd of(Served served, int pages, int perSecond) throws IOException {
    PageCrowd crowd = new PageCrowd();
    PageDevice first = PageDevice.paired(served.port(), served.access().prepareCode());
    for (int page = 0; page < pages; page++) {
      Socket socket = asking(served.port(), first, "/api/v1/events");
      crowd.pages.add(socket);
      crowd.threads.execute(() -> crowd.readOn(socket));
    }
    for (int asked = 0; asked < perSecond; asked += PER_DEVICE) {
      PageDevice device = PageDevice.paired(served.port(), served.access().prepareCode());
      crowd.threads.execute(() -> crowd.askOn(device));
    }
    return crowd;
  }

  /** How many requests have had their answer so far. */
  long answered() {
    return answered.get();
  }

  private static Socket asking(int port, PageDevice device, String path) throws IOException {
    StringBuilder head = new StringBuilder("GET " + path + " HTTP/1.1\r\n");
    device.usual().forEach((name, value) -> head.append(name + ": " + value + "\r\n"));
    head.append("\r\n");
    Socket socket = new Socket(InetAddress.getLoopbackAddress(), port);
    OutputStream out = socket.getOutputStream();
    out.write(head.toString().getBytes(StandardCharsets.UTF_8));
    out.flush();
    return socket;
  }

  private void readOn(Socket page) {
    byte[] room = new byte[16 * 1024];
    try (InputStream in = page.getInputStream()) {
      int read = in.read(room);
      while (read >= 0 && !over.get()) {
        read = in.read(room);
      }
    } catch (IOException closed) {
      // The page was closed while it read: that is how it ends here.
      return;
    }
  }

  /** One request after the other at this device's pace, whatever the answer is. */
  private void askOn(PageDevice device) {
    long periodNs = TimeUnit.SECONDS.toNanos(1) / PER_DEVICE;
    long dueNs = System.nanoTime();
    while (!over.get()) {
      dueNs += periodNs;
      long left = dueNs - System.nanoTime();
      if (left > 0) {
        LockSupport.parkNanos(left);
      }
      try {
        device.sendOnce("GET", "/api/v1/session", device.usual(), "");
        answered.incrementAndGet();
      } catch (IOException refused) {
        // A server that ends, or has no room, answers nothing: it is not counted.
        dueNs = System.nanoTime();
      }
    }
  }

  @Override
  public void close() throws IOException {
    over.set(true);
    for (Socket page : pages) {
      page.close();
    }
    threads.shutdown();
    try {
      if (!threads.awaitTermination(1, TimeUnit.MINUTES)) {
        throw new IOException("somebody still asks");
      }
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
    }
  }
}
