(function () {
  'use strict';
  var page = document, root = page.documentElement;
  var tip = page.getElementById('tip'), say = page.getElementById('say'), lit = null, leaving = 0, pointed = false;

  function offer(id, action) {
    var button = page.getElementById(id);
    button.hidden = false;
    button.addEventListener('click', action);
  }
  offer('theme', function () {
    var dark = root.dataset.theme ? root.dataset.theme === 'dark' : matchMedia('(prefers-color-scheme: dark)').matches;
    root.dataset.theme = dark ? 'light' : 'dark';
  });
  offer('print', function () { window.print(); });

  function middle(mark) {
    var box = mark.getBoundingClientRect();
    return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
  }
  function stay() { clearTimeout(leaving); leaving = 0; }
  function hide() {
    stay();
    if (lit) lit.classList.remove('on');
    lit = null;
    tip.hidden = true;
  }
  function show(mark) {
    hide();
    lit = mark;
    mark.classList.add('on');
    tip.textContent = mark.dataset.says;
    tip.hidden = false;
    place();
  }
  function place() {
    var at = middle(lit), box = tip.getBoundingClientRect();
    tip.style.left = Math.max(4, Math.min(innerWidth - box.width - 8, at.x + 12)) + 'px';
    tip.style.top = (at.y - box.height - 12 > 4 ? at.y - box.height - 12 : at.y + 14) + 'px';
  }
  /* The words stay at their mark when the page moves, and go with it. */
  page.addEventListener('scroll', function () {
    var at = lit && middle(lit);
    if (at && (at.x < 0 || at.y < 0 || at.x > innerWidth || at.y > innerHeight)) hide();
    else if (at) place();
  }, { capture: true, passive: true });
  page.addEventListener('keydown', function (event) { if (event.key === 'Escape') hide(); });
  /* Long enough to move onto the words, which then stay. They let the pointer through all the same, or
     the marks below them could not be reached. */
  function leave() { if (!leaving) leaving = setTimeout(hide, 300); }
  function onWords(event) {
    var box = tip.getBoundingClientRect();
    return !tip.hidden && event.clientX >= box.left && event.clientX <= box.right &&
      event.clientY >= box.top && event.clientY <= box.bottom;
  }
  page.addEventListener('pointermove', function (event) {
    if (!lit || !pointed) return;
    if (onWords(event)) stay();
    else if (!event.target.closest('svg.plot, svg.cell')) leave();
  });

  /* A mark that the keyboard steps to may lie beyond the window or beside its scroller. */
  function reveal(mark) {
    var at = middle(mark), frame = (mark.closest('.scroll') || root).getBoundingClientRect();
    var right = Math.min(innerWidth, frame.right), left = Math.max(0, frame.left);
    if (at.y > 60 && at.y < innerHeight - 20 && at.x > left && at.x < right) return;
    mark.scrollIntoView({ block: 'center', inline: 'center' });
  }

  /* The browser's own slow tooltips give way to ours, which the keyboard can reach too. */
  function adopt(plot) {
    var marks = [];
    plot.querySelectorAll('title').forEach(function (title) {
      title.parentNode.dataset.says = title.textContent;
      marks.push(title.parentNode);
      title.remove();
    });
    return marks;
  }
  function nearest(marks, event) {
    var reach = onWords(event) ? 9 : 28, best = -1, least = reach * reach;
    marks.forEach(function (mark, index) {
      var at = middle(mark), dx = at.x - event.clientX, dy = at.y - event.clientY;
      if (dx * dx + dy * dy < least) { least = dx * dx + dy * dy; best = index; }
    });
    return best;
  }
  /* Up and down go to another series of the same plot, to its mark that is nearest across. */
  function series(mark) { return mark.closest('.lane') || mark.parentNode; }
  function otherGroup(marks, now, step) {
    var n = marks.length, next = now, first, best;
    for (var i = 0; i < n; i++) {
      next = (next + step + n) % n;
      if (series(marks[next]) !== series(marks[now])) break;
    }
    first = series(marks[next]);
    best = next;
    marks.forEach(function (mark, index) {
      if (series(mark) === first && Math.abs(middle(mark).x - middle(marks[now]).x) <
        Math.abs(middle(marks[best]).x - middle(marks[now]).x)) best = index;
    });
    return best;
  }
  function target(key, marks, now) {
    var n = marks.length;
    if (key === 'ArrowRight') return (now + 1) % n;
    if (key === 'ArrowLeft') return (now + n - 1) % n;
    if (key === 'ArrowDown') return otherGroup(marks, Math.max(now, 0), 1);
    if (key === 'ArrowUp') return otherGroup(marks, Math.max(now, 0), -1);
    if (key === 'Home') return 0;
    if (key === 'End') return n - 1;
    return -1;
  }
  page.querySelectorAll('svg.plot, svg.cell').forEach(function (plot) {
    var marks = adopt(plot), now = -1;
    if (!marks.length) return;
    function point(event) {
      var found = nearest(marks, event);
      if (found < 0) { leave(); return; }
      now = found;
      show(marks[found]);
      pointed = true;
    }
    plot.addEventListener('pointermove', point);
    plot.addEventListener('pointerdown', point); /* a finger does not move before it touches */
    plot.addEventListener('pointerleave', leave);
    if (!plot.classList.contains('plot')) return;
    plot.setAttribute('tabindex', '0');
    plot.setAttribute('role', 'application'); /* a reader then leaves the arrow keys to the plot */
    plot.setAttribute('aria-roledescription', 'plot; arrow keys step through its marks');
    plot.addEventListener('blur', hide);
    plot.addEventListener('keydown', function (event) {
      var next = target(event.key, marks, now);
      if (next < 0) return;
      event.preventDefault();
      now = next;
      reveal(marks[now]);
      show(marks[now]);
      pointed = false;
      say.textContent = marks[now].dataset.says;
    });
  });

  page.querySelectorAll('table.sort').forEach(function (table) {
    table.querySelectorAll('th[data-key]').forEach(function (head) {
      var button = page.createElement('button');
      button.type = 'button';
      while (head.firstChild) button.appendChild(head.firstChild);
      head.appendChild(button);
      button.addEventListener('click', function () {
        var down = head.getAttribute('aria-sort') !== 'descending', key = head.dataset.key;
        table.querySelectorAll('th[aria-sort]').forEach(function (other) { other.removeAttribute('aria-sort'); });
        head.setAttribute('aria-sort', down ? 'descending' : 'ascending');
        Array.prototype.forEach.call(table.tBodies, function (body) {
          Array.prototype.filter.call(body.rows, function (row) { return row.dataset[key]; }).sort(function (a, b) {
            return (down ? 1 : -1) * (Number(b.dataset[key]) - Number(a.dataset[key]));
          }).forEach(function (row) { body.appendChild(row); });
        });
      });
    });
  });
})();
