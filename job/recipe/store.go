package recipe

import "container/list"

// A store remembers values in memory, at most so many bytes of them; the one
// not asked for the longest goes first. It is not safe for concurrent use: the
// [Memo] that owns it holds the lock.
type store struct {
	most   int // bytes
	held   int // bytes
	byKey  map[Key]*list.Element
	recent list.List // of *kept, the latest asked for in front
}

type kept struct {
	key   Key
	value any
	bytes int
}

// What an entry costs besides its value: key, list element, map slot.
const entryBytes = 200

func (s *store) get(key Key) (any, bool) {
	at, ok := s.byKey[key]
	if !ok {
		return nil, false
	}
	s.recent.MoveToFront(at)
	return at.Value.(*kept).value, true
}

// put remembers a value, unless it alone is more than the store may hold.
func (s *store) put(key Key, value any, bytes int) {
	bytes = max(0, bytes) + entryBytes
	if _, there := s.byKey[key]; there || bytes > s.most {
		return
	}
	if s.byKey == nil {
		s.byKey = map[Key]*list.Element{}
	}
	s.byKey[key] = s.recent.PushFront(&kept{key, value, bytes})
	s.held += bytes
	for s.held > s.most {
		last := s.recent.Remove(s.recent.Back()).(*kept)
		delete(s.byKey, last.key)
		s.held -= last.bytes
	}
}
