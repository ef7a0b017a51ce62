//! How much of one resource is in use over time.

/// A step function of use over time; `(from, used)` holds until the next entry, the last one for ever.
#[derive(Clone, Debug)]
pub(super) struct Profile {
    capacity: u32,
    levels: Vec<(i64, u32)>,
}

impl Profile {
    pub(super) fn new(capacity: u32) -> Self {
        Self { capacity, levels: vec![(i64::MIN, 0)] }
    }

    /// The earliest time, not before `from`, at which `amount` is free for `length`.
    pub(super) fn earliest(&self, from: i64, length: i64, amount: u32) -> i64 {
        let mut start = from;
        let mut index = self.level_at(from);
        while let Some(&(since, used)) = self.levels.get(index) {
            if since >= start.saturating_add(length) {
                break;
            }
            index += 1;
            if used + amount > self.capacity {
                start = self.levels.get(index).map_or(start, |&(next, _)| next);
            }
        }
        start
    }

    /// Marks `amount` as used from `start` for `length`.
    pub(super) fn take(&mut self, start: i64, length: i64, amount: u32) {
        if length == 0 || amount == 0 {
            return;
        }
        let first = self.split(start);
        let last = self.split(start + length);
        for level in &mut self.levels[first..last] {
            level.1 += amount;
        }
        self.merge(last);
        self.merge(first);
    }

    fn level_at(&self, time: i64) -> usize {
        self.levels.partition_point(|&(since, _)| since <= time) - 1
    }

    /// Makes `time` the start of a level and tells which.
    fn split(&mut self, time: i64) -> usize {
        let index = self.level_at(time);
        if self.levels[index].0 == time {
            return index;
        }
        self.levels.insert(index + 1, (time, self.levels[index].1));
        index + 1
    }

    /// Joins a level to the one before it where both are the same: solid blocks of work stay one level.
    fn merge(&mut self, index: usize) {
        if index > 0 && self.levels[index].1 == self.levels[index - 1].1 {
            self.levels.remove(index);
        }
    }
}
