package lodestep.powerloss;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import lodestep.powerloss.DiskTrace.Disk;
import lodestep.powerloss.DiskTrace.Kind;

/**
 * A folder on a disk with a cache: what was written stands in the cache until it is synced, and
 * names stand there until the folder is. A power cut drops of it what it likes. Confined to one
 * thread.
 *
 * <p>Stricter than the file systems in use, of which most keep a new file's name with the file's
 * own sync: whoever survives here survives there.
 */
final class CrashingDisk {

  /** Smallest piece that a disk writes whole. */
  private static final int SECTOR_BYTES = 512;

  /** What became of the cache. */
  enum Cache {
    /** None of it reached the disk. */
    DROPPED,
    /** All of it did, as when the program alone was killed. */
    KEPT,
    /** Each sector of it did or did not, and names did up to one of them. */
    TORN
  }

  /** A file's content, synced and not. */
  private static final class Content {
    private byte[] synced = new byte[0];
    private byte[] now = new byte[0];
    private final List<Disk> pending = new ArrayList<>();

    private void apply(Disk step) {
      now = changed(now, step, 0, step.data().remaining());
      pending.add(step);
    }

    private void sync() {
      synced = now;
      pending.clear();
    }

    private byte[] torn(SplittableRandom random) {
      byte[] bytes = synced;
      for (Disk step : pending) {
        int length = step.data().remaining();
        if (step.kind() == Kind.TRUNCATE) {
          bytes = random.nextBoolean() ? changed(bytes, step, 0, 0) : bytes;
          continue;
        }
        for (int from = 0; from < length; ) {
          long sectorEnd = ((step.at() + from) / SECTOR_BYTES + 1) * SECTOR_BYTES;
          int to = (int) Math.min(length, sectorEnd - step.at());
          bytes = random.nextBoolean() ? changed(bytes, step, from, to) : bytes;
          from = to;
        }
      }
      return bytes;
    }

    private static byte[] changed(byte[] before, Disk step, int from, int to) {
      if (step.kind() == Kind.TRUNCATE) {
        return Arrays.copyOf(before, (int) step.at());
      }
      int end = (int) step.at() + to;
      byte[] after = Arrays.copyOf(before, Math.max(before.length, end));
      ByteBuffer data = step.data().duplicate();
      data.position(from).limit(to);
      data.get(after, (int) step.at() + from, to - from);
      return after;
    }
  }

  private final Map<String, Content> syncedNames = new LinkedHashMap<>();
  private final Map<String, Content> names = new LinkedHashMap<>();
  private final List<Disk> pendingNames = new ArrayList<>();

  /** Takes one change or sync. */
  void apply(Disk step) {
    switch (step.kind()) {
      case CREATE, UNLINK -> {
        rename(names, step, new Content());
        pendingNames.add(step);
      }
      case WRITE, TRUNCATE -> content(step).apply(step);
      case SYNC_FILE -> content(step).sync();
      case SYNC_FOLDER -> {
        syncedNames.clear();
        syncedNames.putAll(names);
        pendingNames.clear();
      }
    }
  }

  private Content content(Disk step) {
    Content content = names.get(step.name());
    if (content == null) {
      throw new AssertionError("the trace changes a file that is not there: " + step.name());
    }
    return content;
  }

  private static void rename(Map<String, Content> in, Disk step, Content created) {
    if (step.kind() == Kind.CREATE) {
      in.put(step.name(), created);
    } else {
      in.remove(step.name());
    }
  }

  /** The files as the next start finds them after a power cut now. */
  Map<String, byte[]> after(Cache cache, SplittableRandom random) {
    Map<String, byte[]> files = new TreeMap<>();
    Map<String, Content> there =
        switch (cache) {
          case DROPPED -> syncedNames;
          case KEPT -> names;
          case TORN -> tornNames(random);
        };
    there.forEach(
        (name, content) ->
            files.put(
                name,
                switch (cache) {
                  case DROPPED -> content.synced;
                  case KEPT -> content.now;
                  case TORN -> content.torn(random);
                }));
    return files;
  }

  private Map<String, Content> tornNames(SplittableRandom random) {
    Map<String, Content> there = new LinkedHashMap<>(syncedNames);
    int kept = random.nextInt(pendingNames.size() + 1);
    for (Disk step : pendingNames.subList(0, kept)) {
      rename(there, step, names.getOrDefault(step.name(), new Content()));
    }
    return there;
  }

  /** Puts files into an empty folder. */
  static void write(Map<String, byte[]> files, Path folder) throws IOException {
    for (Map.Entry<String, byte[]> file : files.entrySet()) {
      Files.write(folder.resolve(file.getKey()), file.getValue());
    }
  }
}
